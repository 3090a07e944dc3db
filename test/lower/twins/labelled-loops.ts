function find(rows: number[][]) {
  outer: for (const row of rows) {
    for (const cell of row) {
      if (cell === 0) continue outer;
      if (cell === 1) break outer;
    }
  }
}
