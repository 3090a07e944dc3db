import { testRule } from '../support/rule-cases.js';

testRule('status-unchecked');
