import type { Plugin } from 'vite';

export function clipServer(): Plugin;
