function chain(device: Device) {
  device.connect()
    .then((link) => link.service('hive'))
    .then((service) => service.read());
}
