import { Component, Injectable } from '@angular/core';

@Injectable({ providedIn: 'root' })
export class ScaleService {
  private weight?: BluetoothRemoteGATTCharacteristic;

  async read() {
    return await this.weight!.readValue();
  }
}

@Component({ selector: 'app-weight', template: '<button (click)="read()">Read</button><button (click)="readWell()">Read</button>' })
export class WeightComponent {
  text = '';

  constructor(private readonly scale: ScaleService) {}

  async ngOnInit() {
    await this.scale.read(); //! status-unchecked warning
  }

  async read() {
    this.text = String(await this.scale.read()); //! status-unchecked warning
  }

  async readWell() {
    try {
      this.text = String(await this.load());
    } catch (error) {
      this.text = String(error);
    }
  }

  private async load() {
    return await this.scale.read();
  }
}
