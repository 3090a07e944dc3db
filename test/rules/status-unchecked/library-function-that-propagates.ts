export class Scale {
  private server?: BluetoothRemoteGATTServer;

  async connect(device: BluetoothDevice) {
    this.server = await device.gatt!.connect();
    const service = await this.server.getPrimaryService('weight_scale');
    return await service.getCharacteristic('weight_measurement');
  }

  async *readings(weight: BluetoothRemoteGATTCharacteristic) {
    while (this.server?.connected) yield await weight.readValue();
  }
}

export async function open(device: BluetoothDevice) {
  return await new Scale().connect(device);
}
