// What browsers know and Debian's checker of types does not yet.
interface Array<T> {
  findLast(test: (value: T, index: number, all: T[]) => unknown): T | undefined;
}
