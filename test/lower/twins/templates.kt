fun label(name: String, grams: Int): String {
    return "scale $name: ${grams / 1000} kg"
}
