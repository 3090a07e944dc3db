package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile

/** Whoever opened the link may close it; in this program nobody does. */
class Session : BluetoothGattCallback() {
    private var link: BluetoothGatt? = null

    override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED) link = gatt
    }

    fun end() {
        link?.disconnect() //! link-not-closed hint
    }
}
