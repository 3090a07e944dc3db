import { testRule } from '../support/rule-cases.js';

testRule('notify-over-limit');
