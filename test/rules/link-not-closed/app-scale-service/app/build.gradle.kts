android {
    defaultConfig {
        minSdk = 23
    }
}
