/** Runs once when the server starts: what a killed server left of uploads is put right before anybody asks. */
export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return;
  const { uploads } = await import('./app/_server/uploads');
  uploads();
}
