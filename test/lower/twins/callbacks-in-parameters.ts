class Bridge {
  private readonly link: Link = make();

  read(at: number, onDone: (bytes: Uint8Array, status: number) => void, onFail: ((status: number) => void) | null = null) {
    link.read(at, (bytes, status) => status === 0 ? onDone(bytes, status) : onFail!(status));
  }
}
