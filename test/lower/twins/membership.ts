function listed(id: string, ids: Ids): boolean {
  return id in ids;
}
