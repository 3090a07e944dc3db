android {
    defaultConfig {
        minSdk = 21
    }
}
