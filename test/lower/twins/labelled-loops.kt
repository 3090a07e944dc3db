fun find(rows: List<List<Int>>) {
    outer@ for (row in rows) {
        for (cell in row) {
            if (cell == 0) continue@outer
            if (cell == 1) break@outer
        }
    }
}
