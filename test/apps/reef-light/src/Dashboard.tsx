import { useEffect, useRef, useState } from 'react';
import { COLOURS, FULL } from './attributes';
import { describe, useReef, type ReefControl } from './useReef';

const CLOCK_EVERY_MS = 6 * 3600_000;

/** Follows the finger at once and tells the light when it rests. */
function Channel({ index, permille, onRest }: { index: number; permille: number; onRest: (permille: number) => void }) {
  const [shown, setShown] = useState(permille);
  const resting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);

  useEffect(() => setShown(permille), [permille]);
  useEffect(() => () => clearTimeout(resting.current), []);

  const onInput = (event: { currentTarget: HTMLInputElement }): void => {
    const wanted = Number(event.currentTarget.value);
    setShown(wanted);
    clearTimeout(resting.current);
    resting.current = setTimeout(() => onRest(wanted), 150);
  };

  return (
    <label className="channel">
      <span>{COLOURS[index]}</span>
      <input type="range" min={0} max={FULL} value={shown} onInput={onInput} />
      <output>{Math.round(shown / 10)} %</output>
    </label>
  );
}

/** The lamp has no clock of its own worth the name; it gets ours twice a day. */
function ClockKeeper({ control, onProblem }: { control: ReefControl; onProblem: (words: string) => void }) {
  const { syncClock } = control;
  useEffect(() => {
    const sync = (): void => {
      syncClock().catch((error: unknown) => onProblem(describe(error)));
    };
    sync();
    const timer = setInterval(sync, CLOCK_EVERY_MS);
    return () => clearInterval(timer);
  }, [syncClock, onProblem]);
  return null;
}

export function Dashboard() {
  const control = useReef();
  const { state, choose, setLevel, release } = control;
  const [clockProblem, setClockProblem] = useState('');

  const onNight = async (): Promise<void> => {
    for (const colour of COLOURS.keys()) await setLevel(colour, colour === 0 ? 20 : 0);
  };

  if (state.phase !== 'connected') {
    return (
      <section>
        <button disabled={state.phase === 'connecting'} onClick={choose}>
          {state.phase === 'lost' ? 'Connect again' : 'Connect'}
        </button>
        <p role="status">{state.problem ?? ''}</p>
      </section>
    );
  }

  return (
    <section>
      <header>
        <h1>{state.name}</h1>
        <button onClick={onNight}>Night</button>
        <button onClick={release}>Disconnect</button>
      </header>
      <ClockKeeper control={control} onProblem={setClockProblem} />
      {state.levels.map((permille, index) => (
        <Channel
          key={COLOURS[index]}
          index={index}
          permille={permille}
          onRest={(wanted: number) => void setLevel(index, wanted)}
        />
      ))}
      <footer>
        <span>{state.fan === undefined ? '' : `Fan ${state.fan}/min`}</span>
        <span>{state.lamp === undefined ? '' : `Lamp ${state.lamp.toFixed(0)} °C`}</span>
        <span role="status">{state.problem ?? clockProblem}</span>
      </footer>
    </section>
  );
}
