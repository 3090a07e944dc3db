import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGattServerCallback
import android.bluetooth.BluetoothGattService
import android.bluetooth.BluetoothProfile
import android.util.Log

class Server : BluetoothGattServerCallback() {
    private val hubs = mutableSetOf<BluetoothDevice>()
    private var payload = 20
    private var sending = false

    override fun onConnectionStateChange(device: BluetoothDevice, status: Int, newState: Int) { //! status-unchecked hint
        if (newState == BluetoothProfile.STATE_CONNECTED) hubs.add(device) else hubs.remove(device)
    }

    // Has no status at all.
    override fun onMtuChanged(device: BluetoothDevice, mtu: Int) {
        payload = mtu - 3
    }

    override fun onNotificationSent(device: BluetoothDevice, status: Int) { //! status-unchecked hint
        sending = false
    }

    override fun onServiceAdded(status: Int, service: BluetoothGattService) { //! status-unchecked hint
        Log.d("Scale", "added ${service.uuid}")
        sending = false
    }
}

class Cleaner : BluetoothGattServerCallback() {
    private val hubs = mutableSetOf<BluetoothDevice>()

    override fun onConnectionStateChange(device: BluetoothDevice, status: Int, newState: Int) {
        if (newState == BluetoothProfile.STATE_DISCONNECTED) hubs.remove(device)
    }
}
