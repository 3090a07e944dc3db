fun sync(links: List<Link>) {
    for (link in links) {
        try {
            if (link.open) {
                while (link.pending > 0) {
                    when (link.next()) {
                        0 -> continue
                        else -> link.drop()
                    }
                }
            }
        } catch (problem: Problem) {
            if (problem.fatal) throw problem
        }
    }
}
