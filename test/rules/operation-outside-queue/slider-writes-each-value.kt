package hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic
import android.widget.SeekBar

class Volume(private val gatt: BluetoothGatt, private val sound: BluetoothGattCharacteristic) {
    fun attach(bar: SeekBar) {
        bar.setOnSeekBarChangeListener(object : SeekBar.OnSeekBarChangeListener {
            override fun onProgressChanged(bar: SeekBar, progress: Int, fromUser: Boolean) {
                if (fromUser) setVolume(progress) //! operation-outside-queue warning
            }

            override fun onStartTrackingTouch(bar: SeekBar) = Unit

            override fun onStopTrackingTouch(bar: SeekBar) = Unit
        })
    }

    private fun setVolume(percent: Int) {
        sound.value = byteArrayOf(percent.toByte())
        gatt.writeCharacteristic(sound)
    }
}
