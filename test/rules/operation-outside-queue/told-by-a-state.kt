package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothProfile
import kotlinx.coroutines.CoroutineScope
import kotlinx.coroutines.flow.MutableStateFlow
import kotlinx.coroutines.flow.asStateFlow
import kotlinx.coroutines.flow.filter
import kotlinx.coroutines.flow.first
import kotlinx.coroutines.launch

enum class Stage { IDLE, CONNECTED, DISCOVERED, READ }

/** What comes next follows the state, whether somebody collects it or waits for a value. */
class StagedLink(private val scope: CoroutineScope, private val weight: BluetoothGattCharacteristic, private val battery: BluetoothGattCharacteristic) {
    private var gatt: BluetoothGatt? = null
    private val reached = MutableStateFlow(Stage.IDLE)
    val stage = reached.asStateFlow()

    fun follow() {
        scope.launch { stage.collect { if (it == Stage.CONNECTED) gatt?.discoverServices() } } //! operation-outside-queue hint
        scope.launch { stage.filter { it == Stage.DISCOVERED }.collect { gatt?.readCharacteristic(weight) } } //! operation-outside-queue hint
    }

    suspend fun readBoth() {
        gatt?.readCharacteristic(weight) //! operation-outside-queue hint
        stage.first { it == Stage.READ }
        gatt?.readCharacteristic(battery)
    }

    val callback = object : BluetoothGattCallback() {
        override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, newState: Int) {
            if (newState == BluetoothProfile.STATE_CONNECTED) reached.value = Stage.CONNECTED
        }

        override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
            reached.value = Stage.DISCOVERED
        }
    }
}
