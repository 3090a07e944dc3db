plugins {
    id("com.android.application")
    id("org.jetbrains.kotlin.android")
}

android {
    namespace = "app.gardenvalves"
    compileSdk = 36

    defaultConfig {
        applicationId = "app.gardenvalves"
        minSdk = 26
        targetSdk = 36
        versionCode = 7
        versionName = "1.2"
    }

    kotlinOptions {
        jvmTarget = "17"
    }
}
