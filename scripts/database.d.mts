export function migrate(env: Record<string, string | undefined>): Promise<void>;
