import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class Gathered(private val gatt: BluetoothGatt) {
    private var accepted = false
    val results = mutableMapOf<String, Boolean>()

    fun and(all: List<BluetoothGattCharacteristic>): Boolean {
        var ok = true
        for (c in all) ok = ok and gatt.setCharacteristicNotification(c, true)
        return ok
    }

    fun shortly(all: List<BluetoothGattCharacteristic>): Boolean {
        var ok = true
        for (c in all) ok = gatt.setCharacteristicNotification(c, true) && ok
        return ok
    }

    fun counted(all: List<BluetoothGattCharacteristic>) {
        var refused = 0
        all.forEach { if (!gatt.setCharacteristicNotification(it, true)) refused++ }
        check(refused == 0)
    }

    fun mapped(c: BluetoothGattCharacteristic) {
        results["weight"] = gatt.readCharacteristic(c)
    }

    fun kept(c: BluetoothGattCharacteristic) {
        accepted = gatt.readCharacteristic(c)
    }

    fun later() = if (accepted) "waiting" else "refused"

    fun again(c: BluetoothGattCharacteristic) {
        var tries = 0
        while (!gatt.readCharacteristic(c) && tries++ < 3) Thread.sleep(20)
        do {
            val ok = gatt.readRemoteRssi()
        } while (!ok)
    }
}
