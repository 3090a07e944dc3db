import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.content.Context
import kotlinx.coroutines.suspendCancellableCoroutine
import kotlin.coroutines.resume
import kotlin.coroutines.resumeWithException

suspend fun read(device: BluetoothDevice, context: Context, c: BluetoothGattCharacteristic): ByteArray = suspendCancellableCoroutine { continuation ->
    val gatt = device.connectGatt(context, false, object : BluetoothGattCallback() {
        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            if (status != BluetoothGatt.GATT_SUCCESS) {
                continuation.resumeWithException(IllegalStateException("onServicesDiscovered failed"))
                return
            }
            if (!gatt.readCharacteristic(c)) continuation.resumeWithException(IllegalStateException("refused"))
        }

        override fun onCharacteristicRead(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
            if (status == BluetoothGatt.GATT_SUCCESS) continuation.resume(value)
            else continuation.resumeWithException(IllegalStateException("read: $status"))
            gatt.close()
        }
    })
    continuation.invokeOnCancellation { gatt.close() }
}
