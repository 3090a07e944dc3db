android {
    defaultConfig {
        minSdk = 20
    }
}
