package hive

import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.content.Context
import android.os.Build

/** Whoever calls this has the link, and with it the duty to close it. */
fun BluetoothDevice.open(context: Context, callback: BluetoothGattCallback): BluetoothGatt? =
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.M) {
        connectGatt(context, false, callback, BluetoothDevice.TRANSPORT_LE)
    } else {
        connectGatt(context, false, callback)
    }
