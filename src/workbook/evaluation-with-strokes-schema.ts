import { evaluationSchema } from '../fleet/evaluation-schema.js';
import { strokesJsonSchema } from './strokes-json.js';

/** The object that `treadlebook evaluate --json` prints, version 1, with what it adds where there are pushrod strokes. */
export const evaluationWithStrokesSchema = evaluationSchema.extend(strokesJsonSchema.partial().shape).meta({ ...evaluationSchema.meta() });
