import type { Reading } from './gatt.js';

const WINDOW_MS = 5 * 60_000;

/** When the meat will be done, from the slope of the last five minutes. */
export class Forecast {
  private readings: Reading[] = [];

  add(reading: Reading): void {
    this.readings = [...this.readings.filter(({ at }) => reading.at - at < WINDOW_MS), reading];
  }

  get latest(): Reading | undefined {
    return this.readings.at(-1);
  }

  /** Minutes until the target; undefined while it cannot be told. */
  minutesTo(target: number): number | undefined {
    const last = this.latest;
    if (!last) return undefined;
    if (last.celsius >= target) return 0;
    const slope = this.degreesPerMinute();
    return slope !== undefined && slope > 0.01 ? Math.round((target - last.celsius) / slope) : undefined;
  }

  /** Least squares. */
  private degreesPerMinute(): number | undefined {
    if (this.readings.length < 10) return undefined;
    const points = this.readings.map(({ at, celsius }) => [at / 60_000, celsius] as const);
    const meanX = points.reduce((sum, [x]) => sum + x, 0) / points.length;
    const meanY = points.reduce((sum, [, y]) => sum + y, 0) / points.length;
    let top = 0;
    let bottom = 0;
    for (const [x, y] of points) {
      top += (x - meanX) * (y - meanY);
      bottom += (x - meanX) ** 2;
    }
    return bottom === 0 ? undefined : top / bottom;
  }
}
