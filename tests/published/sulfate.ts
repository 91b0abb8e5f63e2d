/** USEPA Unified Guidance (EPA 530/R-09-007), example 17-6: the times as printed, a code of year and month used as a plain number. */
export const SULFATE_TIMES = [89.6, 89.8, 90.1, 90.3, 90.6, 90.8, 91.1, 91.3, 91.6, 91.8, 92.1, 92.6, 93.1, 93.6, 94.1, 94.6, 95.1, 95.6, 95.8, 96.1, 96.3, 96.6, 96.8];

/** The sulfate concentrations of that example, in ppm. */
export const SULFATE = [480, 450, 490, 520, 485, 510, 510, 530, 510, 560, 560, 540, 590, 550, 600, 700, 570, 610, 650, 620, 830, 720, 590];
