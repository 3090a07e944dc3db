package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothProfile
import android.content.Context
import android.os.Handler

/** Status 133, a new attempt a little later, three times; the helper closes what failed. */
class StubbornLink(private val context: Context, private val device: BluetoothDevice, private val handler: Handler) {
    private var gatt: BluetoothGatt? = null
    private var attempts = 0

    fun start() {
        if (gatt != null) return
        attempts = 0
        attempt()
    }

    private fun attempt() {
        attempts++
        gatt = device.connectGatt(context, false, callback, BluetoothDevice.TRANSPORT_LE)
    }

    private fun again() {
        tearDown()
        if (attempts < 3) handler.postDelayed({ attempt() }, 500)
    }

    fun tearDown() {
        gatt?.let {
            it.disconnect()
            it.close()
        }
        gatt = null
    }

    private val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            when {
                status == BluetoothGatt.GATT_SUCCESS && newState == BluetoothProfile.STATE_CONNECTED -> if (!gatt.discoverServices()) again()
                status == 133 -> again()
                else -> tearDown()
            }
        }
    }
}
