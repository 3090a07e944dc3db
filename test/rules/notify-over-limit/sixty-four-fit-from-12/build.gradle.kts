android {
    defaultConfig {
        minSdk = 31
    }
}
