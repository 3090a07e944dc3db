function guarded() {
  try {
    open();
  } catch (error: Exception) {
    report(error);
  } finally {
    close();
  }
}

function plain() {
  try {
    open();
  } finally {
    close();
  }
}
