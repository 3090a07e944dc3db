// The oldest release decides: 4.3 and 4.4.0 grant four (AOSP BTA_GATTC_NOTIF_REG_MAX).
android {
    defaultConfig {
        minSdk = 19
    }
}
