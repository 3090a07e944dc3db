package hive.link

import android.os.Bundle
import android.view.View
import android.widget.Button
import android.widget.SeekBar
import androidx.fragment.app.Fragment
import java.util.UUID

class HiveFragment(private val link: HiveLink) : Fragment() {
    override fun onViewCreated(view: View, savedInstanceState: Bundle?) {
        val refresh = view.findViewById<Button>(1)
        val flash = view.findViewById<Button>(2)
        val threshold = view.findViewById<SeekBar>(3)
        refresh.setOnClickListener {
            link.read(WEIGHT) { value -> show(value) }
            link.read(BATTERY) { value -> show(value) }
            link.listen(WEIGHT, BATTERY)
        }
        flash.setOnClickListener { if (!link.flash()) show(null) }
        threshold.setOnSeekBarChangeListener(object : SeekBar.OnSeekBarChangeListener {
            override fun onProgressChanged(bar: SeekBar, progress: Int, fromUser: Boolean) {
                if (fromUser) link.write(THRESHOLD, byteArrayOf(progress.toByte())) { written -> if (!written) show(null) }
            }

            override fun onStartTrackingTouch(bar: SeekBar) = Unit

            override fun onStopTrackingTouch(bar: SeekBar) = Unit
        })
    }

    override fun onDestroyView() {
        link.close()
        super.onDestroyView()
    }

    private fun show(value: ByteArray?) = println(value?.size)

    private companion object {
        val WEIGHT: UUID = UUID.fromString("df070101-7563-45da-9adc-777135148d9e")
        val BATTERY: UUID = UUID.fromString("00002a19-0000-1000-8000-00805f9b34fb")
        val THRESHOLD: UUID = UUID.fromString("df070132-7563-45da-9adc-777135148d9e")
    }
}
