import { testRule } from '../support/rule-cases.js';

testRule('link-not-closed');
