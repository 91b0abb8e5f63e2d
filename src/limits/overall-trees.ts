import { call } from '../expressions/call.js';
import { constant, isConstant, nameOf, type Tree } from '../expressions/tree.js';
import { doubtfulTree } from './chance-tree.js';
import { anyOf, checkName, FILLED } from './check-names.js';
import { briefDoubtTree } from './doubt-words.js';
import { shareTree } from './share-tree.js';
import type { CheckPlan } from './compile-checks.js';
import type { SetPart } from './set-parts.js';
import { SEVERITIES, SEVERITY_WORDS } from './severity.js';
import { isOfSeverity } from './severity-tree.js';
import { NOT_READ } from './working-columns.js';

/** The name of the verdict of a whole inspection. */
export const OVERALL_VERDICT = 'overall:verdict';
/** The name of its reason. */
export const OVERALL_REASON = 'overall:reason';

/** The name of the highest share of a leak's limit that an inspection used. */
export const LEAK_SHARE = 'overall:leak_share';

/** The routes of a check, itself among them. */
const routesOf = (plan: CheckPlan, checks: readonly CheckPlan[]): readonly CheckPlan[] => checks.filter(({ eitherOf }) => eitherOf === plan.eitherOf);

const verdictOf = (plan: CheckPlan): Tree => nameOf(checkName(plan.check, 'verdict'), 'text');
const reads = (plan: CheckPlan, verdict: string): Tree => call('reads', verdictOf(plan), constant(verdict));
const anyReads = (plans: readonly CheckPlan[], verdict: string): Tree => {
  const trees = plans.map((plan) => reads(plan, verdict));
  return trees.length === 0 ? constant(false) : trees.length === 1 ? trees[0]! : call('or', ...trees);
};

/**
 * The verdict of an inspection: `fail` when any check fails; else `recheck` when any cannot be decided; else `not tested`
 * when a check that is not optional was left out, and no other route of it passes; else `recheck` when a cell could not be understood; else `pass`.
 */
export function overallVerdictTree(checks: readonly CheckPlan[]): Tree {
  const needed = checks.filter((plan) => !plan.optional);
  const missing = needed.map((plan) => (plan.otherRoutes.length === 0 ? reads(plan, 'not tested') : call('and', reads(plan, 'not tested'), call('not', anyReads(routesOf(plan, checks), 'pass')))));
  // A cell that nobody could read may be the very one that fails: such a row does not pass.
  const unread = call('given', nameOf(NOT_READ, 'text'));
  const passes = call('choose', anyReads(checks, 'pass'), call('choose', unread, constant('recheck'), constant('pass')), constant('not tested'));
  const complete = missing.length === 0 ? passes : call('choose', anyOf(missing), constant('not tested'), passes);
  const decided = call('choose', anyReads(checks, 'fail'), constant('fail'), call('choose', anyReads(checks, 'recheck'), constant('recheck'), complete));
  return call('only_if', nameOf(FILLED, 'truth'), decided);
}

/**
 * The highest share of its limit among the leaks of an inspection; where the set checks no leak, among all its checks.
 * Null when no check has a share.
 */
export function leakShareTree(checks: readonly CheckPlan[]): Tree | null {
  const withShare = checks.filter((plan) => shareTree(plan) !== null);
  const leaks = withShare.filter((plan) => plan.measure.measure.ranks_units);
  const shares = (leaks.length > 0 ? leaks : withShare).map((plan) => nameOf(checkName(plan.check, 'share'), 'number'));
  if (shares.length === 0) return null;
  return shares.length === 1 ? shares[0]! : call('highest', ...shares);
}

/** `Fails.`, or `Fails (major defect).` by the gravest severity among the checks that fail. */
function failsWords(checks: readonly CheckPlan[]): Tree {
  return SEVERITIES.reduce<Tree>((otherwise, severity) => {
    const failed = checks.flatMap((plan) => {
      const is = isOfSeverity(plan, severity);
      return is === null ? [] : [isConstant(is, true) ? reads(plan, 'fail') : call('and', reads(plan, 'fail'), is)];
    });
    return failed.length === 0 ? otherwise : call('choose', anyOf(failed), constant(`Fails (${SEVERITY_WORDS[severity]}).`), otherwise);
  }, constant('Fails.'));
}

/** The reason of an inspection: the verdict in a word, then the sentences of failed checks, of undecided ones, and a word on passes that the gauge is too coarse for. */
export function overallReasonTree(checks: readonly CheckPlan[]): Tree {
  const verdict = nameOf(OVERALL_VERDICT, 'text');
  const opening = call(
    'choose',
    call('reads', verdict, constant('pass')),
    constant('Passes.'),
    call('choose', call('reads', verdict, constant('fail')), failsWords(checks), call('choose', call('reads', verdict, constant('recheck')), constant('Not decided.'), constant('Not complete.'))),
  );
  const said = reasonParts(checks).flatMap(({ id, tree }) => (id === null ? [tree] : [call('or_else', nameOf(id, 'text'), constant(''))]));
  const notRead = call('or_else', call('join', constant(' Not understood:'), nameOf(NOT_READ, 'text'), constant('.')), constant(''));
  return call('only_if', nameOf(FILLED, 'truth'), call('join', opening, ...said, notRead));
}

/** A piece of the reason of an inspection; where there are many checks it has a working column of its own. */
export interface ReasonPart {
  /** Its name among the names of the row program; null where it stands in the reason itself. */
  readonly id: string | null;
  readonly tree: Tree;
}

/** Up to this many checks the reason is one formula. */
const MOST_IN_ONE = 10;
/** Checks of one piece: a cell holds no longer formula. */
const IN_A_PIECE = 8;

/** What the reason says of each check, failed checks first, then undecided ones, then passes that the gauge is too coarse for. */
export function reasonParts(checks: readonly CheckPlan[]): ReasonPart[] {
  const kinds = [['failed', failedWords], ['undecided', undecidedWords], ['doubtful', doubtfulWords]] as const;
  const pieces = checks.length <= MOST_IN_ONE ? [checks] : Array.from({ length: Math.ceil(checks.length / IN_A_PIECE) }, (_, at) => checks.slice(at * IN_A_PIECE, (at + 1) * IN_A_PIECE));
  return kinds.flatMap(([kind, wordsOf]) =>
    pieces.flatMap((piece, at): ReasonPart[] => {
      const words = piece.flatMap((plan) => wordsOf(plan, checks) ?? []);
      if (pieces.length === 1) return words.map((tree) => ({ id: null, tree }));
      return words.length === 0 ? [] : [{ id: `overall:${kind}:${at + 1}`, tree: words.length === 1 ? words[0]! : call('join', ...words) }];
    }),
  );
}

const sentence = (plan: CheckPlan): Tree => call('join', constant(' '), nameOf(checkName(plan.check, 'reason'), 'text'));

function failedWords(plan: CheckPlan): Tree {
  return call('choose', reads(plan, 'fail'), sentence(plan), constant(''));
}

function undecidedWords(plan: CheckPlan, checks: readonly CheckPlan[]): Tree {
  const isUndecided = plan.comparator === 'no_number' ? reads(plan, 'recheck') : call('or', reads(plan, 'recheck'), reads(plan, 'not tested'));
  const said = plan.otherRoutes.length === 0 ? isUndecided : call('and', isUndecided, call('not', anyReads(routesOf(plan, checks), 'pass')));
  return call('choose', said, call('or_else', sentence(plan), constant('')), constant(''));
}

function doubtfulWords(plan: CheckPlan): Tree | null {
  const doubtful = doubtfulTree(plan);
  if (doubtful === null) return null;
  return call('choose', call('and', reads(plan, 'pass'), doubtful), call('or_else', call('join', constant(' '), briefDoubtTree(plan)), constant('')), constant(''));
}

/** The verdict over several limit sets: the worst of theirs. */
export function wholeVerdictTree(sets: readonly SetPart[]): Tree {
  const any = (verdict: string): Tree => anyOf(sets.map(({ column }) => call('reads', nameOf(column, 'text'), constant(verdict))));
  const worst = (['fail', 'recheck', 'not tested'] as const).reduceRight<Tree>((otherwise, verdict) => call('choose', any(verdict), constant(verdict), otherwise), constant('pass'));
  return call('only_if', nameOf(FILLED, 'truth'), worst);
}
