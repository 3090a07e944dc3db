import { WeightChart } from './chart.js';
import { explain } from './connect.js';
import type { HiveScale, Stop } from './scale.js';
import { formatDegrees, formatWeight } from './values.js';

export interface LiveView {
  readonly weight: HTMLElement;
  readonly battery: HTMLElement;
  readonly frames: HTMLElement;
  readonly canvas: HTMLCanvasElement;
  readonly tare: HTMLButtonElement;
  readonly identify: HTMLButtonElement;
  readonly refresh: HTMLButtonElement;
  readonly message: HTMLElement;
}

const BATTERY_MS = 60_000;

/** Shows a connected scale until unmounted; unmounting lets the scale go. */
export function mountLive(view: LiveView, scale: HiveScale): () => void {
  const chart = new WeightChart(view.canvas);
  const stops: Stop[] = [];
  let mounted = true;

  const fail = (error: unknown): void => {
    if (mounted) view.message.textContent = explain(error);
  };

  const showBattery = (percent: number): void => {
    view.battery.textContent = `${percent} %`;
  };

  const start = async (): Promise<void> => {
    const weight = await scale.readWeight();
    chart.add(weight);
    view.weight.textContent = formatWeight(weight);
    showBattery(await scale.readBattery());
    const stop = await scale.watchWeight((next) => {
      chart.add(next);
      view.weight.textContent = formatWeight(next);
    });
    if (mounted) stops.push(stop);
    else stop();
    scale.watchFrames((frame, degrees) => {
      view.frames.title = `Frame ${frame + 1}: ${formatDegrees(degrees)}`;
    });
  };

  const onTare = (): void => {
    scale.tare().then(() => {
      view.message.textContent = 'Zeroed';
    });
  };

  const onIdentify = (): void => {
    scale.identify().catch(fail);
  };

  const onRefresh = async (): Promise<void> => {
    view.refresh.disabled = true;
    try {
      const frames = await scale.readFrames();
      view.frames.textContent = frames.map(formatDegrees).join('  ');
    } catch (error) {
      fail(error);
    } finally {
      view.refresh.disabled = false;
    }
  };

  view.tare.addEventListener('click', onTare);
  view.identify.addEventListener('click', onIdentify);
  view.refresh.addEventListener('click', onRefresh);
  stops.push(
    scale.onceLost(() => {
      view.message.textContent = 'The scale has gone.';
    }),
  );
  const timer = setInterval(() => {
    scale.readBattery().then(showBattery, fail);
  }, BATTERY_MS);

  void start().catch(fail);

  return () => {
    mounted = false;
    clearInterval(timer);
    view.tare.removeEventListener('click', onTare);
    view.identify.removeEventListener('click', onIdentify);
    view.refresh.removeEventListener('click', onRefresh);
    for (const stop of stops) stop();
    chart.stop();
    scale.close();
  };
}
