android {
    defaultConfig {
        minSdk = 18
    }
}
