package hive

import android.bluetooth.BluetoothGatt

class Session(private val link: BluetoothGatt) {
    fun pause() {
        link.disconnect()
    }

    fun end() {
        link.close()
    }
}
