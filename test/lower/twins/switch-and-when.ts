function handle(code: number) {
  switch (code) {
    case 0:
      accept(code);
      break;
    case 1:
    case 2: {
      retry();
      log('again');
      break;
    }
    default:
      reject();
  }
}
