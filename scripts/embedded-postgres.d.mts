export interface RunningPostgres {
  readonly pid: number;
  readonly isAdopted: boolean;
  urlOf(database: string): string;
  stop(): Promise<void>;
}
export function linkLibraries(): void;
export function startPostgres(
  root: string,
  choice?: { settings?: Record<string, string>; port?: number },
): Promise<RunningPostgres>;
