import { defineComponent } from 'vue';

declare const weight: BluetoothRemoteGATTCharacteristic;

export default defineComponent({
  data: () => ({ text: '' }),
  async mounted() {
    await weight.startNotifications(); //! status-unchecked warning
  },
  async beforeUnmount() {
    await weight.stopNotifications().catch(() => undefined);
  },
  methods: {
    async read() {
      await weight.readValue(); //! status-unchecked warning
    },
    async tare() {
      try {
        await this.write(1);
      } catch (error) {
        this.text = String(error);
      }
    },
    async write(command: number) {
      await weight.writeValue(new Uint8Array([command]));
    },
  },
});
