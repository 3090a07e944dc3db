class Hive extends Device implements Closeable {
  override close() {
    super.close();
  }
}
