import { Component } from 'react';

export class Panel extends Component {
  private weight!: BluetoothRemoteGATTCharacteristic;

  constructor(props: object) {
    super(props);
    this.read = this.read.bind(this);
  }

  async componentDidMount() {
    await this.weight.startNotifications(); //! status-unchecked warning
  }

  async read() {
    await this.weight.readValue(); //! status-unchecked warning
  }

  async tare() {
    await this.weight.writeValue(new Uint8Array([1])); //! status-unchecked warning
  }

  zero = async () => {
    await this.weight.writeValue(new Uint8Array([2])); //! status-unchecked warning
  };

  render() {
    return <div><button onClick={this.read} /><button onClick={this.tare.bind(this)} /><button onClick={this.zero} /></div>;
  }
}
