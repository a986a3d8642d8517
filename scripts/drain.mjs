// Loaded into a web server that runs apart (next to `NEXT_MANUAL_SIG_HANDLE`, which leaves the signals to us). Told to
// end, it says so at /api/health for a while, so that whoever shares out the requests stops sending some; it goes on
// answering all the same, then takes no new connection, lets every answer that was begun come to its end, and leaves.
import { subscribe } from 'node:diagnostics_channel';

const DRAIN_MS = Number(process.env.DRAIN_MS || 10_000);
// An upload that takes longer is cut off, and goes on by itself at another server.
const FINISH_MS = 60_000;

const open = new Set();
let server;
let isDraining = false;

// A connection that is kept would bring its next request here, just when nobody listens any more.
const endConnectionAfter = (response) => {
  if (!response.headersSent) response.setHeader('connection', 'close');
};

subscribe('http.server.request.start', (message) => {
  server = message.server;
  const { response } = message;
  open.add(response);
  response.once('close', () => open.delete(response));
  if (isDraining) endConnectionAfter(response);
});

const leave = () => process.exit(0);

function close() {
  if (!server) return leave();
  setTimeout(leave, FINISH_MS).unref();
  server.close(leave);
}

function drain() {
  if (isDraining) return;
  isDraining = true;
  globalThis.cagepostIsDraining = true;
  open.forEach(endConnectionAfter);
  setTimeout(close, DRAIN_MS);
}

process.on('SIGTERM', drain);
process.on('SIGINT', drain);
