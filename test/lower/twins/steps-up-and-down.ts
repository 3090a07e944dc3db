function count() {
  let n = 0;
  n++;
  ++n;
  n--;
  use(n++);
}
