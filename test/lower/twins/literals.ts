function literals() {
  const whole = 42;
  const hex = 0x2a;
  const half = 0.5;
  const grouped = 1_000;
  const text = 'a "b"\n';
  const yes = true;
  const no = false;
  const nothing = null;
}
