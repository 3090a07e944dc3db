function sync(links: Link[]) {
  for (const link of links) {
    try {
      if (link.open) {
        while (link.pending > 0) {
          switch (link.next()) {
            case 0:
              continue;
            default:
              link.drop();
          }
        }
      }
    } catch (problem: Problem) {
      if (problem.fatal) throw problem;
    }
  }
}
