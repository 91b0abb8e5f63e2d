/** The sheet's name. */
export const ONE_UNIT_SHEET = 'One unit';

/** The cell in which a unit is chosen, and that of the last day that is shown. */
export const PICKED_CELL = 'B4';
export const UP_TO_CELL = 'B5';
/** The row that says in words what the control chart signals. */
export const SIGNAL_ROW = 6;
/** The charts lie below this row. */
export const CHARTS_BELOW = 7;
export const CHART_ROWS = 19;
/** The row of the column titles of the tables, and the first row below. */
export const ONE_UNIT_TITLE_ROW = CHARTS_BELOW + CHART_ROWS + 3;
export const ONE_UNIT_FIRST_ROW = ONE_UNIT_TITLE_ROW + 1;
/** The latest inspections of a unit that are shown. */
export const MOST_SHOWN = 60;
export const ONE_UNIT_LAST_ROW = ONE_UNIT_FIRST_ROW + MOST_SHOWN - 1;
/** The latest days of repairs that are tried for an effect. */
export const MOST_REPAIRS = 24;
/** Fewest days with a loss for its control chart. */
export const LEAST_CHARTED = 6;
/** Room beside the first and the last day of a chart: this part of the span, and at least so many days. */
export const ROOM = 0.05;
export const LEAST_ROOM = 10;
/** A day, and nothing where no reading has a day. */
export const DAY_FORMAT = '[<367]"";yyyy-mm-dd';
/** A value below the foot of the charts, where nothing is to be drawn. */
export const OFF_CHART = -1;
