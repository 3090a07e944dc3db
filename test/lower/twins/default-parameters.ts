function connect(name: string = 'hive', retries: number = 3, extras: number[]) {
  start(name, retries, ...extras);
}
