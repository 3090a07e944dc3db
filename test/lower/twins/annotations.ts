@Component('hive')
class Dashboard {
  @Input
  readonly name = 'a';

  @Handler(1, 'x')
  refresh() {
    load();
  }
}
