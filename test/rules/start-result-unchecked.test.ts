import { testRule } from '../support/rule-cases.js';

testRule('start-result-unchecked');
