fun start(link: Link?): Boolean {
    if (link == null || !link.ready) return false
    if (link.busy) {
        throw fail("busy")
    }
    return link.begin()
}
