plugins {
    id("com.android.application")
    id("org.jetbrains.kotlin.android")
}

android {
    namespace = "app.kilnlog"
    compileSdk = 36

    defaultConfig {
        applicationId = "app.kilnlog"
        minSdk = 28
        targetSdk = 36
        versionCode = 31
        versionName = "3.0.1"
    }

    kotlinOptions {
        jvmTarget = "17"
    }
}

dependencies {
    implementation("org.jetbrains.kotlinx:kotlinx-coroutines-android:1.8.1")
    implementation("androidx.lifecycle:lifecycle-viewmodel-ktx:2.8.7")
}
