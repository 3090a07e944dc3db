/**
 * Root of the language server: joins the parts with the machine and with the editor that started it. What the server does
 * stands in `lsp/`.
 */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { rules } from '../rules/index.js';
import { ProjectWorkbench } from './lsp/project-workbench.js';
import { serve } from './lsp/serve.js';
import { checkerOf, editSources, linking } from './project/checker.js';
import { nodeFiles } from './project/files-node.js';
import { Surroundings } from './project/surroundings.js';

/** Shorter than a reader waits for, longer than the time between two keys. */
const TYPING_PAUSE_MS = 120;

const surroundings = new Surroundings();
const workbench = new ProjectWorkbench({
  host: {
    linking,
    checker: checkerOf(rules, surroundings),
    pause: () => new Promise((resume) => setImmediate(resume)),
  },
  files: nodeFiles,
  settle: () => new Promise((resume) => setTimeout(resume, TYPING_PAUSE_MS)),
  surroundings,
  editSources,
});

serve(createConnection(ProposedFeatures.all), workbench);
