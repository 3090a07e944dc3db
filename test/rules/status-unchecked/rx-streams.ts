import { from, fromEvent } from 'rxjs';
import { switchMap } from 'rxjs/operators';

export function stream(button: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic) {
  fromEvent(button, 'click').pipe(switchMap(() => weight.readValue())).subscribe({ next: console.log, error: console.error });
  from(weight.readValue()).subscribe({ next: console.log, error: console.error });
  fromEvent(button, 'click').subscribe(async () => {
    await weight.readValue(); //! status-unchecked warning
  });
}
