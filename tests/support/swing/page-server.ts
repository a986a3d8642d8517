import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server } from 'node:http';
import path from 'node:path';
import ts from 'typescript';

const PAGE = `<!doctype html><meta charset="utf-8"><title>Demo swings</title>
<script type="importmap">{"imports":{"three":"/node_modules/three/build/three.module.js"}}</script>
<body><script type="module" src="/tests/support/swing/scene/stage"></script>`;

async function moduleText(root: string, pathname: string): Promise<string | null> {
  const file = path.resolve(root, `.${pathname}`);
  if (!file.startsWith(root + path.sep)) return null;
  if (file.endsWith('.js')) return readFile(file, 'utf8');
  const source = await readFile(`${file}.ts`, 'utf8');
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.ESNext,
    verbatimModuleSyntax: true,
  };
  return ts.transpileModule(source, { compilerOptions: options }).outputText;
}

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts);
}

/**
 * Serves the drawing page on a free loopback port: TypeScript is turned into browser modules as it is asked for.
 * Pixels posted to `/frame` go to `take`.
 */
export async function servePage(
  root: string,
  take: (index: number, pixels: Buffer) => Promise<void>,
): Promise<{ url: string; server: Server }> {
  const server = createServer((request, response) => {
    const url = new URL(request.url ?? '/', 'http://localhost');
    const answer = async () => {
      if (url.pathname === '/') return response.setHeader('content-type', 'text/html').end(PAGE);
      if (url.pathname === '/frame') {
        await take(Number(url.searchParams.get('index')), await bodyOf(request));
        return response.end();
      }
      if (!url.pathname.startsWith('/tests/') && !url.pathname.startsWith('/node_modules/three/'))
        return response.writeHead(404).end();
      const text = await moduleText(root, url.pathname);
      if (text === null) return response.writeHead(404).end();
      return response.setHeader('content-type', 'text/javascript').end(text);
    };
    answer().catch((error: unknown) => {
      console.error(url.pathname, error instanceof Error ? error.message : error);
      response.writeHead(500).end();
    });
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('The page has no port.');
  return { url: `http://127.0.0.1:${address.port}/`, server };
}
