package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

/** What happens when it is busy is what the test is about. */
class BeeperTest {
    fun secondBeepIsRefused(gatt: BluetoothGatt, tone: BluetoothGattCharacteristic) {
        val beeper = Beeper(gatt, tone)
        check(beeper.beep())
        check(!beeper.beep()) //! operation-outside-queue hint
    }
}
