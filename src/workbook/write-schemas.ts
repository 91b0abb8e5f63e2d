import { mkdirSync, writeFileSync } from 'node:fs';
import { packagePath } from '../util/package-path.js';
import { schemaFiles } from './schema-files.js';

mkdirSync(packagePath('schemas'), { recursive: true });
for (const [name, text] of schemaFiles()) writeFileSync(packagePath('schemas', name), text);
