import { Panel } from './panel.js';

document.querySelectorAll<HTMLElement>('.hive').forEach(root => new Panel(root));
