interface Link {
  readonly name: string;
  mtu: number;
  read(at: number): Reading;
  close();
}
