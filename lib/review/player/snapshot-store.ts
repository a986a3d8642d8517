/**
 * A value that others watch: `getSnapshot` gives the same object until something in it changes, as
 * `useSyncExternalStore` needs.
 */
export class SnapshotStore<Snapshot extends object> {
  private readonly listeners = new Set<() => void>();

  constructor(private current: Readonly<Snapshot>) {}

  readonly getSnapshot = (): Readonly<Snapshot> => this.current;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Tells the listeners only when a value really changed. */
  set(change: Partial<Snapshot>): void {
    const keys = Object.keys(change) as (keyof Snapshot)[];
    if (keys.every((key) => Object.is(this.current[key], change[key]))) return;
    this.current = Object.freeze({ ...this.current, ...change });
    for (const listener of [...this.listeners]) listener();
  }

  clear(): void {
    this.listeners.clear();
  }
}
