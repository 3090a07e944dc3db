function release(gatt: Gatt | null) {
  const name = gatt!.name ?? 'scale';
  if (gatt === null) return;
  gatt.close();
  use(name);
}
