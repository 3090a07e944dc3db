function label(name: string, grams: number): string {
  return `scale ${name}: ${grams / 1000} kg`;
}
