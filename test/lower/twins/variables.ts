function tally(start: number) {
  const fixed = start;
  let moving: number = fixed;
  moving = moving + 1;
  moving += 2;
  moving -= 3;
  moving *= 4;
  let later: string;
  later = 'now';
}
