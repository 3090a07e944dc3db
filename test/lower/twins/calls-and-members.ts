class Link {
  poll(gatt: Gatt, at: number) {
    gatt.read(at);
    gatt.service.item(at).write(gatt.mtu, 'go');
    this.poll(gatt, at);
    poll(gatt, at);
  }
}
