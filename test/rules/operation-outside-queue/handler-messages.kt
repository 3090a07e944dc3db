package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.os.Handler
import android.os.Looper
import android.os.Message

class Machine(private val gatt: BluetoothGatt, looper: Looper, private val probes: List<BluetoothGattCharacteristic>) : Handler(looper) {
    override fun handleMessage(message: Message) {
        when (message.what) {
            READ -> if (!gatt.readCharacteristic(probes[message.arg1])) retry(message)
            LISTEN -> if (!gatt.writeDescriptor(probes[message.arg1].descriptors.first())) retry(message)
        }
    }

    private fun retry(message: Message) {
        sendMessageDelayed(obtainMessage(message.what, message.arg1, 0), 200)
    }

    val callback = object : BluetoothGattCallback() {
        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
            sendMessage(obtainMessage(LISTEN, probes.indexOf(characteristic), 0))
        }
    }

    private companion object {
        const val READ = 1
        const val LISTEN = 2
    }
}
