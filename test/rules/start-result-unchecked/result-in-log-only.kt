import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.util.Log

class Logged(private val gatt: BluetoothGatt) {
    fun bound(c: BluetoothGattCharacteristic) {
        val started = gatt.readCharacteristic(c) //! start-result-unchecked hint
        Log.d(TAG, "read started: $started")
    }

    fun direct(c: BluetoothGattCharacteristic) {
        Log.d(TAG, "read started: ${gatt.readCharacteristic(c)}") //! start-result-unchecked hint
    }

    fun also(c: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(c).also { Log.d(TAG, "read started: $it") } //! start-result-unchecked hint
    }

    fun tested(c: BluetoothGattCharacteristic) {
        if (!gatt.readCharacteristic(c)) Log.w(TAG, "read refused") //! start-result-unchecked hint
    }

    fun helped(c: BluetoothGattCharacteristic) {
        note("read", gatt.readCharacteristic(c)) //! start-result-unchecked hint
    }

    fun emptily(c: BluetoothGattCharacteristic) {
        if (!gatt.readCharacteristic(c)) { //! start-result-unchecked hint
        }
    }

    private fun note(what: String, ok: Boolean) {
        Log.d(TAG, "$what: $ok")
    }

    private companion object {
        const val TAG = "Scale"
    }
}
