export function joinTestServer(): Promise<{ url: string; template: string; leave(): Promise<void> }>;
