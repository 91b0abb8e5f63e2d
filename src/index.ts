export { openReadings, type InputFormat, type OpenedReadings, type OpenOptions } from './workbook/open-readings.js';
export { evaluateReadings, type EvaluatedFleet } from './workbook/evaluate-readings.js';
export { openFleet } from './workbook/open-fleet.js';
export type { EvaluateOptions, FleetCounts, FleetOutcome, FleetTally, OpenedFleet, OpenFleetOptions } from './workbook/opened-fleet.js';
export type { PeriodOptions } from './workbook/asked-period.js';
export type { BaselineInfo } from './workbook/baseline-info.js';
export { periodCounts, type PeriodCounts } from './workbook/period-counts.js';
export { pullInFirst, type UnitToPullIn } from './workbook/pull-in-first.js';
export type { ReadingsInput } from './workbook/readings-input.js';
export { blankWorkbook, workbookOf, type WorkbookOptions } from './workbook/write-workbook.js';
export { blankCsv, evaluatedCsv, evaluateInspections } from './workbook/evaluated-csv.js';
export { evaluatedParquet } from './workbook/evaluated-parquet.js';
export { evaluationJson, inspectionJson, type InspectionJson } from './workbook/evaluation-json.js';
export { compareReadings, type ComparedReadings, type CompareOptions } from './workbook/compare-readings.js';
export { comparisonCsv } from './workbook/comparison-csv.js';
export { comparisonJson, comparisonSchema, type ComparisonJson } from './workbook/comparison-json.js';
export { comparisonWorkbook } from './workbook/comparison-workbook.js';
export { verifyWorkbook, type VerifyOptions } from './workbook/verify-workbook.js';
export { FINDINGS, verificationSchema, type Finding, type FindingCode, type Verification } from './workbook/verify-finding.js';
export { reportWorkbook, type ReportOptions } from './workbook/report-workbook.js';
export { cautions } from './workbook/cautions.js';
export type { SourceInfo } from './workbook/source-info.js';
export { openStrokes, type OpenedStrokes, type OpenStrokesOptions } from './workbook/open-strokes.js';
export type { EvaluatedStrokes, StrokesSource } from './workbook/evaluated-strokes.js';

export { evaluateStrokes, type PositionStrokes, type StrokeEvaluation } from './strokes/evaluate-strokes.js';
export { readStrokes, type ReadStrokes } from './strokes/read-strokes.js';
export type { Stroke, StrokeEntries } from './strokes/stroke.js';
export { strokeLimits, type StrokeLimit, type StrokeLimits } from './strokes/stroke-limits.js';
export type { StrokeResult } from './strokes/stroke-result.js';
export type { VehicleStrokes } from './strokes/vehicle-strokes.js';

export { RowEvaluator } from './fleet/row-evaluator.js';
export { DataQuality, type DataQuestion, type QuestionKind } from './fleet/data-quality.js';
export { compareFleets, type SummarisedFleet } from './fleet/compare-fleets.js';
export { FleetSummariser, type SummaryOptions } from './fleet/fleet-summariser.js';
export type { Borders, CheckResult, Evaluation } from './fleet/evaluation.js';
export type { BaselineComparison, DifferenceWord, MedianDifference, RateDifference } from './fleet/baseline-comparison.js';
export type { FailRate } from './fleet/fail-rate.js';
export type { FleetMedians } from './fleet/fleet-medians.js';
export type { FleetDirection, FleetFigures, FleetTrend, Reason } from './fleet/fleet-figures.js';
export type { FailRateGroup, GroupFailRate, GroupFlag, RatePrior } from './fleet/group-fail-rate.js';
export type { OpenWork } from './fleet/open-work.js';
export type { PeriodLength, PeriodSummary } from './fleet/period-summary.js';
export type { FleetSummary, Period } from './fleet/summary.js';
export type { ControlChart, ControlSignal, Crossing, Direction, LossTrend, UnitSummary } from './fleet/unit-summary.js';

export { sqlScript, SQL_VIEWS, type SqlScriptOptions } from './sql/sql-script.js';
export { SQL_DIALECTS, type SqlDialectName } from './expressions/sql-dialect.js';

export { explainSlowBuildUp, type UnitBuildup } from './fleet/explain-slow-build-up.js';

export { atmosphericPressure } from './physics/atmospheric-pressure.js';
export { buildupOverSpan, COMMON_SPAN } from './physics/buildup-over-span.js';
export type { BuildupTest } from './physics/buildup-test.js';
export { coolingDrop, type CoolingTank } from './physics/cooling-drop.js';
export { equivalentHole, type EquivalentHole } from './physics/equivalent-hole.js';
export { expectedBuildup, type ExpectedBuildupOptions } from './physics/expected-buildup.js';
export { freeAirFlow, type LeakInTank } from './physics/free-air-flow.js';
export { freeAirStored, type PressureStep } from './physics/free-air-stored.js';
export { holdToDecide } from './physics/hold-to-decide.js';
export { leakShareOfSlowBuildup } from './physics/leak-share-of-slow-buildup.js';
export { lossMargin, type LeakTest } from './physics/loss-margin.js';
export { minutesUntilWarning, type LeakingDown } from './physics/minutes-until-warning.js';
export { orificeFlow } from './physics/orifice-flow.js';
export { sureLosses, type SureLosses } from './physics/sure-losses.js';
export type { HoleConditions } from './physics/unit-flow.js';
export { readableTo, type GaugeScale, type Readability } from './limits/readable-to.js';

export { limitSetIds, loadLimitSet, parseLimitSet } from './limits/load-limit-set.js';
export { combineLimitSets } from './limits/combine-limit-sets.js';
export { compileLimitSet, type LimitPlan } from './limits/compile-limit-set.js';
export { limitSetOf, type LimitsGiven } from './limits/limit-set-of.js';
export { limitSetSchema, type LimitSet, type Source } from './limits/limit-set.js';
export type { CheckPlan } from './limits/compile-checks.js';
export type { CircuitMeasure } from './limits/compile-measures.js';
export type { CircuitPlan } from './limits/circuit-trees.js';
export type { IntervalPlan } from './limits/interval.js';
export { circuitsOfCheck, failedCircuits, type FailedCheck } from './limits/circuits-of-check.js';
export type { Verdict } from './limits/verdict.js';

export { columnMapSchema, columnMapText, describeColumns, parseColumnMap } from './readings/column-map.js';
export { fieldDictionary, type Dictionary } from './readings/dictionary.js';
export { fieldSchema, type Field } from './readings/field.js';
export { readInspections, type InspectionReader } from './readings/read-inspections.js';
export { compareInspections, keyingsAgree, type ColumnAgreement, type Comparison, type Difference, type UnmatchedInspection } from './readings/compare-inspections.js';
export type { Keying } from './readings/compare-columns.js';
export type { Entry, Inspection } from './readings/inspection.js';
export type { Problem, ProblemCode } from './readings/problem.js';

export { INPUT_CAPS, type CsvCaps, type InputCaps, type JsonCaps, type XlsxCaps } from './formats/input-caps.js';

export { writeFileAtomically } from './util/write-file-atomically.js';
export { TreadlebookError, type ErrorCode } from './util/treadlebook-error.js';
export type { RawCell, RawRow, RawTable } from './util/raw-table.js';
