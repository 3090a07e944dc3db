package hive

import android.bluetooth.BluetoothGatt

class Apiary(private val links: Map<String, BluetoothGatt>, private val scales: List<Scale>) {
    fun measureAll() {
        for (gatt in links.values) gatt.readRemoteRssi() //! operation-outside-queue hint
        links.forEach { (_, gatt) -> gatt.readRemoteRssi() }
        scales.forEach { it.measure() }
    }

    fun measure(addresses: List<String>) {
        for (address in addresses) links[address]?.readRemoteRssi() //! operation-outside-queue hint
    }
}

class Scale(private val gatt: BluetoothGatt) {
    fun measure() {
        gatt.readRemoteRssi() //! operation-outside-queue hint
    }
}
