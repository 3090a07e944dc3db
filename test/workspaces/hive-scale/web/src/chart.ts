import { formatWeight, type Weight } from './values.js';

interface Point {
  readonly at: number;
  readonly grams: number;
}

/** The last hour of weights as a line, drawn by hand: no library is worth 200 kB on a farm's connection. */
export class WeightChart {
  private readonly points: Point[] = [];
  private frame = 0;

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly spanMs = 3_600_000,
  ) {}

  add(weight: Weight, at = Date.now()): void {
    this.points.push({ at, grams: weight.grams });
    while (this.points.length > 1 && at - (this.points[0]?.at ?? at) > this.spanMs) this.points.shift();
    this.canvas.title = formatWeight(weight);
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.draw());
  }

  stop(): void {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
  }

  private draw(): void {
    this.frame = 0;
    const context = this.canvas.getContext('2d');
    const newest = this.points.at(-1);
    if (!context || !newest) return;
    const { width, height } = this.canvas;
    const [low, high] = this.bounds();
    context.clearRect(0, 0, width, height);
    context.beginPath();
    this.points.forEach((point, index) => {
      const x = width - ((newest.at - point.at) / this.spanMs) * width;
      const y = height - ((point.grams - low) / (high - low)) * height;
      if (index === 0) context.moveTo(x, y);
      else context.lineTo(x, y);
    });
    context.stroke();
  }

  /** At least a kilogram apart, or a resting hive looks like a rough sea. */
  private bounds(): [number, number] {
    const grams = this.points.map((point) => point.grams);
    const low = Math.min(...grams);
    const high = Math.max(...grams);
    const pad = Math.max(0, 1000 - (high - low)) / 2;
    return [low - pad, high + pad];
  }
}
