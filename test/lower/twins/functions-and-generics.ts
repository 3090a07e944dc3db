function first<T>(items: T[]): T {
  return items[0];
}

function pairs<K, V>(source: Map<K, V>, keep: (value: V) => boolean): V[] {
  return source.values.filter(keep);
}

class Box<T> {
  readonly items: T[] = empty();
}

type Listener<T> = (value: T) => void;
