package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import androidx.fragment.app.Fragment
import androidx.lifecycle.LiveData
import androidx.lifecycle.Observer

class ThresholdService(private val gatt: BluetoothGatt, private val threshold: BluetoothGattCharacteristic) {
    fun write(value: Int) {
        threshold.value = byteArrayOf(value.toByte())
        gatt.writeCharacteristic(threshold) //! operation-outside-queue warning
    }
}

class ThresholdFragment(private val service: ThresholdService, private val chosen: LiveData<Int>) : Fragment() {
    override fun onStart() {
        super.onStart()
        chosen.observe(viewLifecycleOwner, Observer { value -> service.write(value) })
    }
}
