package hive

import android.app.Activity
import android.bluetooth.BluetoothManager
import android.os.Bundle

class MainActivity : Activity() {
    private lateinit var beacon: BeaconServer

    override fun onCreate(savedInstanceState: Bundle?) {
        super.onCreate(savedInstanceState)
        beacon = BeaconServer(applicationContext, getSystemService(BluetoothManager::class.java))
    }

    override fun onStart() {
        super.onStart()
        beacon.switchOn()
    }

    override fun onDestroy() {
        beacon.switchOff()
        super.onDestroy()
    }
}
