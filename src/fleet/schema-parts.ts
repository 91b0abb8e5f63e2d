import { z } from 'zod';

/** A part of a whole, 0 to 1. */
export const share = z.number().min(0).max(1);
/** How many. */
export const count = z.int().min(0);
/** `yyyy-mm-dd`, or null. */
export const date = z.string().nullable();
/** A loss, or null. */
export const loss = z.number().nullable().describe('psi/min');
/** A time, or null. */
export const seconds = z.number().nullable().describe('s');
/** The fields of a fail rate. */
export const failRate = { tested: count, failed: count, recheck: count, rate: share.nullable(), low: share.nullable(), high: share.nullable() };
/** The first and the last day of a period; null is open. */
export const openPeriod = { from: date, to: date };
