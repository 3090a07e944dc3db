import { useCallback, useEffect, useState } from 'react';
import { COLOURS, LIGHT } from './attributes';
import { openReef, type Reef } from './reef';

export type Phase = 'idle' | 'connecting' | 'connected' | 'lost';

export interface ReefState {
  readonly phase: Phase;
  readonly name: string;
  readonly levels: readonly number[];
  readonly fan: number | undefined;
  readonly lamp: number | undefined;
  readonly problem: string | undefined;
}

const NOTHING: ReefState = {
  phase: 'idle', name: '', levels: COLOURS.map(() => 0), fan: undefined, lamp: undefined, problem: undefined,
};

export function describe(error: unknown): string {
  if (error instanceof DOMException && error.name === 'NotFoundError') return 'No light chosen.';
  return error instanceof Error ? error.message : String(error);
}

export interface ReefControl {
  readonly state: ReefState;
  choose(): Promise<void>;
  setLevel(colour: number, permille: number): Promise<void>;
  syncClock(): Promise<void>;
  release(): void;
}

/** The connected light of a component: opened when a device has been chosen, let go when the component goes. */
export function useReef(): ReefControl {
  const [device, setDevice] = useState<BluetoothDevice | undefined>(undefined);
  const [reef, setReef] = useState<Reef | undefined>(undefined);
  const [state, setState] = useState<ReefState>(NOTHING);

  const update = useCallback((change: Partial<ReefState>) => setState((before) => ({ ...before, ...change })), []);

  useEffect(() => {
    if (!device) return undefined;
    let current = true;
    let opened: Reef | undefined;

    const onLost = (): void => {
      setDevice(undefined);
      update({ phase: 'lost' });
    };

    const start = async (): Promise<void> => {
      update({ phase: 'connecting', problem: undefined });
      try {
        const next = await openReef(device, onLost);
        if (!current) {
          next.leave();
          return;
        }
        opened = next;
        update({ levels: await next.readLevels() });
        await next.watch({
          onLevel: (colour, permille) =>
            setState((before) => ({ ...before, levels: before.levels.map((old, i) => (i === colour ? permille : old)) })),
          onFan: (fan) => update({ fan }),
          onLamp: (lamp) => update({ lamp }),
        });
        setReef(next);
        update({ phase: 'connected', name: next.name });
      } catch (error) {
        opened?.leave();
        if (current) update({ phase: 'idle', problem: describe(error) });
      }
    };

    void start();
    return () => {
      current = false;
      opened?.leave();
      setReef(undefined);
    };
  }, [device, update]);

  const choose = useCallback(async () => {
    try {
      setDevice(await navigator.bluetooth.requestDevice({ filters: [{ services: [LIGHT] }] }));
    } catch (error) {
      update({ problem: describe(error) });
    }
  }, [update]);

  const setLevel = useCallback(
    async (colour: number, permille: number) => {
      try {
        await reef?.setLevel(colour, permille);
      } catch (error) {
        update({ problem: describe(error) });
      }
    },
    [reef, update],
  );

  const syncClock = useCallback(async () => {
    const now = new Date();
    const seconds = now.getHours() * 3600 + now.getMinutes() * 60 + now.getSeconds();
    await reef?.setClock(seconds);
  }, [reef]);

  const release = useCallback(() => {
    setDevice(undefined);
    update({ phase: 'idle' });
  }, [update]);

  return { state, choose, setLevel, syncClock, release };
}
