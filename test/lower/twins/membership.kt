fun listed(id: String, ids: Ids): Boolean {
    return id in ids
}
