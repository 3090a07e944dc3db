/** All rules, in the manual's order. */
import type { Rule } from '../server/engine/rule.js';
import { linkNotClosed } from './links/link-not-closed.js';
import { notifyOverLimit } from './limits/notify-over-limit.js';
import { operationOutsideQueue } from './queue/operation-outside-queue.js';
import { startResultUnchecked } from './results/start-result-unchecked.js';
import { statusUnchecked } from './status/status-unchecked.js';

export const rules: readonly Rule[] = [startResultUnchecked, statusUnchecked, operationOutsideQueue, linkNotClosed, notifyOverLimit];
