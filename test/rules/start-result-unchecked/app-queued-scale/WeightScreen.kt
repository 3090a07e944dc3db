package hive.queued

import android.app.Activity
import android.bluetooth.BluetoothDevice
import android.os.Bundle

class WeightScreen : Activity(), ScaleListener {
    private lateinit var link: ScaleLink
    private var text = ""

    override fun onCreate(savedInstanceState: Bundle?) {
        super.onCreate(savedInstanceState)
        link = ScaleLink(this, this)
    }

    override fun onDestroy() {
        link.close()
        super.onDestroy()
    }

    fun onChosen(scale: BluetoothDevice) = link.open(scale)

    override fun onReady() = link.refresh()

    override fun onWeight(grams: Int) {
        text = "$grams g"
    }

    override fun onFailure(what: String) {
        text = "$what failed"
    }

    override fun onGone() {
        text = "–"
    }
}
