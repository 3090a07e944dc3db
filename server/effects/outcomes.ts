/**
 * Whether a branch makes a difference: one whose arms only print (or hold nothing at all) is a remark, not an answer.
 * Shared by what looks at accept flags and what looks at statuses; it decides nothing about either.
 */
import type { AnyNode, Branch } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isLogCall } from './roles.js';

/** Every arm of the branch only tells somebody: nothing is done, left, kept or yielded in any of them. */
export function onlyTells(a: Analysis, branch: Branch): boolean {
  return a.once('only-tells', branch, false, () => branch.arms.every(arm => tells(a, arm.body)));
}

/** Nothing below a node does more than print. */
export function tells(a: Analysis, root: AnyNode): boolean {
  let only = true;
  a.eachBelow(root, node => {
    switch (node.kind) {
      case 'Return': case 'Throw': case 'Jump': case 'Assign': case 'Yield': case 'Leave': case 'Await': case 'Emit': only = false; break;
      case 'Call': {
        if (isLogCall(a, node)) return 'skip';
        // Text that is put together for the log stands inside of it; any other call may do something.
        only = false;
        break;
      }
      default:
    }
    return only ? undefined : 'skip';
  });
  return only;
}
