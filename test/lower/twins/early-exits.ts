function start(link: Link | null): boolean {
  if (link === null || !link.ready) return false;
  if (link.busy) {
    throw fail('busy');
  }
  return link.begin();
}
