import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vitest/config';

const ROOT = fileURLToPath(new URL('.', import.meta.url));

/** Tests name the sources; what they get is what the build made of them, as users run it. */
const builtInsteadOfSource = (): Plugin => ({
  name: 'built-instead-of-source',
  enforce: 'pre',
  async resolveId(source, importer, options) {
    if (!source.startsWith('.')) return null;
    const found = await this.resolve(source, importer, { ...options, skipSelf: true });
    const path = found?.id;
    if (path === undefined || !path.startsWith(`${ROOT}src/`) || path.startsWith(`${ROOT}src/service/page/`))
      return null;
    return `${ROOT}dist/${path.slice(`${ROOT}src/`.length).replace(/\.ts$/, '.js')}`;
  },
});

export default defineConfig(({ mode }) => ({
  plugins: mode === 'built' ? [builtInsteadOfSource()] : [],
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Files share their worker's modules: reading them anew for each took a quarter of the time. No test changes what another reads.
    isolate: false,
    // Left to itself vitest keeps one core free, which on two cores is half of them.
    maxWorkers: '100%',
    // Ours alone: packages have folders of that name too.
    server: { deps: { external: [/^(?!.*\/node_modules\/).*\/dist\//] } },
  },
}));
