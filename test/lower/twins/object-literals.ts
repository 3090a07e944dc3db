function listen(bus: Bus) {
  bus.add({
    limit: 3,
    done(status: number) {
      finish(status);
    },
  });
}
