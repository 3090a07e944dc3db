import { testRule } from '../support/rule-cases.js';

testRule('operation-outside-queue');
