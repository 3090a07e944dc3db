function open(message: unknown) {
  if (message instanceof Reading) show(message);
  const reading = message as Reading;
  const plain = !(message instanceof Fault);
}
