import { Mutex } from 'async-mutex';
import PQueue from 'p-queue';
import pLimit from 'p-limit';

export class Link {
  private readonly mutex = new Mutex();
  private readonly queue = new PQueue({ concurrency: 1 });
  private readonly limit = pLimit(1);

  constructor(private readonly control: BluetoothRemoteGATTCharacteristic) {}

  async sendAll(all: Uint8Array[]): Promise<void> {
    await Promise.all(all.map((bytes) => this.mutex.runExclusive(() => this.control.writeValueWithResponse(bytes))));
    await Promise.all(all.map((bytes) => this.queue.add(() => this.control.writeValueWithResponse(bytes))));
    await Promise.all(all.map((bytes) => this.limit(() => this.control.writeValueWithResponse(bytes))));
    await Promise.all(all.map((bytes) => this.packet(bytes)));
    await Promise.all(all.map((bytes) => navigator.locks.request('scale', () => this.control.writeValueWithResponse(bytes))));
  }

  private async packet(bytes: Uint8Array): Promise<void> {
    const release = await this.mutex.acquire();
    try {
      await this.control.writeValueWithResponse(bytes);
    } finally {
      release();
    }
  }
}
