// Loaded into the server and the worker before anything else: they end when the process that started them is gone,
// also when it was killed and could not tell them. Without this a killed start would leave its port taken.
// Only for our own children: theirs inherit this flag, and a channel let go of there ends a process that is waiting
// for its first message (the development server's second process does).
if (process.env.CAGEPOST_PARENT === String(process.ppid)) {
  process.on('disconnect', () => process.kill(process.pid, 'SIGTERM'));
  process.on('disconnect', () => setTimeout(() => process.exit(1), 10_000).unref());
  process.channel?.unref();
}
