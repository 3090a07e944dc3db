plugins {
    id("com.android.application")
    id("org.jetbrains.kotlin.android")
}

android {
    namespace = "app.frostwatch"
    compileSdk = 36

    defaultConfig {
        applicationId = "app.frostwatch"
        minSdk = 24
        targetSdk = 36
        versionCode = 12
        versionName = "1.4"
    }

    kotlinOptions {
        jvmTarget = "17"
    }
}
