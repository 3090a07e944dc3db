/** All operators, in the order of the table. */
import { catchDropped, cleanupDropped, rejectionPathDropped } from './catches.js';
import { allClosesDropped, closeDropped, closeIsDisconnect, connectInLoop, linkDropped, teardownDropped } from './links.js';
import type { Operator } from './operator.js';
import { busyCheckDropped, lockDropped, operationDoubledInTurn, operationInLoop, operationRepeated } from './overlap.js';
import { arrowBraced, awaitDropped, forEachAsync, promiseAll } from './promises.js';
import { pastTheQueue, pastTheTail } from './queues.js';
import { resultCheckDropped, resultTakenForTrue } from './results.js';
import { statusCheckDropped, statusReplaced } from './status.js';
import { limitLowered, subscriptionsAdded, subscriptionsRepeated } from './subscriptions.js';

export const operators: readonly Operator[] = [
  resultCheckDropped, resultTakenForTrue, awaitDropped, arrowBraced,
  statusCheckDropped, statusReplaced, catchDropped, rejectionPathDropped,
  operationRepeated, operationDoubledInTurn, operationInLoop, pastTheQueue, busyCheckDropped, lockDropped, pastTheTail, promiseAll, forEachAsync,
  linkDropped, connectInLoop, closeDropped, allClosesDropped, closeIsDisconnect, teardownDropped, cleanupDropped,
  subscriptionsAdded, subscriptionsRepeated, limitLowered,
];
