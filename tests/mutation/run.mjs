import { spawnSync } from 'node:child_process';
import { AREAS } from './areas.mjs';

const [area, ...more] = process.argv.slice(2);
if (!Object.hasOwn(AREAS, area)) {
  console.error(`name one of ${Object.keys(AREAS).join(', ')}`);
  process.exit(2);
}
const { status } = spawnSync('npx', ['--no-install', 'stryker', 'run', 'tests/mutation/stryker.config.mjs', ...more], { stdio: 'inherit', env: { ...process.env, MUTATION_AREA: area } });
process.exit(status ?? 1);
