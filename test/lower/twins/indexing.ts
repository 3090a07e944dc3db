function swap(bytes: Uint8Array, table: Table, key: string) {
  const first = bytes[0];
  bytes[1] = first;
  table[key] = bytes[first];
}
