/** A link that is opened and, on some way, never given back. */
import { rule, type Severity } from '../../server/engine/rule.js';
import type { LinkLife, Verdict } from '../../server/effects/links.js';
import type { Facts } from '../../server/facts/facts.js';
import type { AnyNode } from '../../server/ir/ir.js';
import { fixesFor } from './closing-fixes.js';

export const linkNotClosed = rule({
  id: 'link-not-closed',
  title: 'The link is not closed on every way down',
  harm: 'The client stays registered with the system and the peripheral stays taken; after a few times every connection fails until the process ends.',
  severity: 'warning',
  sources: ['android-framework', 'bluedroid', 'bt-stack', 'bt-module', 'bt-conn-status', 'web-bluetooth-spec'],

  check(facts, report) {
    for (const life of facts.links) {
      const told = tell(facts, life);
      if (!told) continue;
      const { callee } = life.open;
      report({
        at: callee.kind === 'Member' ? callee.nameSpan : callee.span,
        message: `${told.wrong}. ${consequence(facts)}`,
        related: (told.related ?? []).slice(0, 4).map(({ node, message }) => ({ path: facts.code.pathOf(node), at: node.span, message })),
        fixes: fixesFor(facts, life),
        ...(told.severity && { severity: told.severity }),
        ...(facts.file.language === 'kotlin' && { apiLevels: { from: facts.targets.android.minimum } }),
      });
    }
  },
});

interface Told {
  readonly wrong: string;
  readonly severity?: Severity;
  readonly related?: readonly { readonly node: AnyNode; readonly message: string }[];
}

/** AOSP GATT_MAX_APPS, gatt_api.h; BluetoothGatt reports a refused registration as GATT_FAILURE, 257. */
function consequence({ file, targets }: Facts): string {
  if (file.language === 'typescript') return 'Until the page is closed the peripheral stays connected, and most can then be neither found nor reached by anybody';
  const clients = targets.android.minimum < 21 ? '32 clients to all apps together (10 before Android 5.0)' : '32 clients to all apps together';
  return `Android, in every version, grants ${clients}; each one left open counts until the process ends, and then connecting fails with status 257 or 133`;
}

function tell(facts: Facts, life: LinkLife): Told | undefined {
  const { open, verdict } = life;
  const { callee } = open;
  const name = callee.kind === 'Member' || callee.kind === 'Name' ? callee.name : 'this call';
  switch (verdict.is) {
    case 'closed': case 'unknown': return undefined;
    case 'dropped': return { wrong: `Nothing keeps the link that ${name} returns: while it is pending nobody can cancel it, and when the attempt is given up nobody can close it` };
    case 'weak': return { wrong: `Only a weak reference keeps the link that ${name} returns: once it is cleared nobody can close the link` };
    case 'never-closed': return facts.file.language === 'kotlin' ? neverClosed(name, verdict) : neverDisconnected(verdict);
    case 'unreached': return {
      wrong: `The link that ${name} opens is closed only where nothing ever gets to`,
      related: verdict.by.map(({ call }) => ({ node: call, message: 'Nobody calls the function around this' })),
    };
    case 'weakly-closed': return weaklyClosed(name, verdict);
    case 'left-open': return leftOpen(name, verdict);
    case 'never-ended': return {
      ...(isOpenToOthers(life) && { severity: 'hint' as const }),
      wrong: `Nothing that the app does ever ends the link that ${name} opens: its callbacks close it when the other side has gone, or an attempt has failed`,
      related: verdict.by.map(({ call }) => ({ node: call, message: 'This waits until the link has ended by itself' })),
    };
    case 'overwritten': return overwritten(name, verdict);
    case 'only-disconnected': return { severity: 'hint', wrong: 'This ends the radio link, and nothing in the program ever closes the client, wherever it was opened' };
    case 'forgotten': return {
      wrong: `The link that ${name} opens is forgotten without being closed, and what would close it later no longer finds it`,
      related: [
        { node: verdict.how.at, message: 'Here the holder lets it go while the client is still registered' },
        ...verdict.by.map(({ call }) => ({ node: call, message: 'This closes what the holder has by then' })),
      ],
    };
  }
}

/** A field that others may reach, and disconnect what is in it. */
function isOpenToOthers({ holders }: LinkLife): boolean {
  return holders.some(h => h.is === 'decl' && h.decl.is === 'field' && !h.decl.node.modifiers.has('private') && !h.decl.node.modifiers.has('protected'));
}

function neverClosed(name: string, { disconnects }: Verdict & { is: 'never-closed' }): Told {
  return {
    wrong: `Nothing ever closes the link that ${name} opens`,
    related: disconnects.map(call => ({ node: call, message: 'disconnect() ends the radio link; the client stays registered until close()' })),
  };
}

function neverDisconnected({ exposed }: Verdict & { is: 'never-closed' }): Told {
  switch (exposed?.is) {
    case 'visit': return { wrong: 'The function connects, does its work and leaves the device connected: no way out of it calls disconnect()' };
    case 'teardown': return {
      wrong: 'When the component around this goes, the device stays connected: nothing calls disconnect()',
      ...(exposed.at && { related: [{ node: exposed.at, message: 'The teardown does not disconnect' }] }),
    };
    case 'failure': return {
      wrong: 'When a step after connecting fails, the code goes on and leaves the device connected: nothing ever calls disconnect()',
      related: [{ node: exposed.at, message: 'If this fails, the link is still open' }],
    };
    case undefined: return { severity: 'hint', wrong: 'Nothing ever disconnects the device that is connected here' };
  }
}

function weaklyClosed(name: string, { by, why }: Verdict & { is: 'weakly-closed' }): Told {
  const closing = by.map(({ call }) => ({ node: call as AnyNode, message: 'It is closed here' }));
  switch (why.is) {
    case 'flag': return {
      wrong: `The link that ${name} opens is closed only while it counts as connected: one that is pending, or was lost, stays open`,
      related: [{ node: why.at, message: 'This does not hold while the connection is pending, nor after it was lost' }, ...closing],
    };
    case 'success': return {
      wrong: `The link that ${name} opens is closed only when the status is success: after an attempt that failed it stays open`,
      related: closing,
    };
    case 'failure': return {
      wrong: `The link that ${name} opens is closed only when the status is not success: after an orderly disconnect it stays open`,
      related: closing,
    };
    case 'completion': return {
      wrong: `The link that ${name} opens is closed only when an operation has completed: after an attempt that failed, or a loss before that, it stays open`,
      related: closing,
    };
  }
}

function leftOpen(name: string, { exits, by, exposed }: Verdict & { is: 'left-open' }): Told {
  const closing = by.map(({ call }) => ({ node: call as AnyNode, message: 'It is closed only here' }));
  if (exposed?.is === 'failure') {
    return {
      wrong: 'When a step after connecting fails, nobody can disconnect the device any more',
      related: [{ node: exposed.at, message: 'If this fails, the link is still open' }, ...closing],
    };
  }
  return {
    wrong: `The link that ${name} opens is held by this function alone, which has a way out that does not close it`,
    related: [...exits.map(node => ({ node, message: 'This way leaves it open' })), ...closing],
  };
}

function overwritten(name: string, { how, by }: Verdict & { is: 'overwritten' }): Told {
  const closing = by.map(({ call }) => ({ node: call as AnyNode, message: 'This closes the last one only' }));
  switch (how.is) {
    case 'again': return {
      wrong: `The link that ${name} opens takes the place of an earlier one that is still open and can then no longer be closed`,
      related: [{ node: how.second, message: 'The next one is opened here, without closing the one before' }, ...closing],
    };
    case 'after-disconnect': return {
      wrong: `${name} puts the next link in the place of one that is only disconnected: that one stays registered, and nobody can close it any more`,
      related: [{ node: how.at, message: 'disconnect() ends the radio link; the client stays registered until close()' }, ...closing],
    };
    case 'stream': return { wrong: `${name} runs for each scan result, and each link takes the place of the one before, which can then no longer be closed`, related: closing };
    case 'reconnect': return {
      wrong: `Each reconnection opens a further link and forgets the one before, which nobody has closed`,
      related: [{ node: how.at, message: 'The callback of the earlier link gets here without closing it' }, ...closing],
    };
    case 'possible': return { severity: 'hint', wrong: `If a link is still open when ${name} runs again, it is forgotten and can no longer be closed`, related: closing };
  }
}
