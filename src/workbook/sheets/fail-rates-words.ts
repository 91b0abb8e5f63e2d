import type { FleetSummary } from '../../fleet/summary.js';
import type { FailRateGroup, GroupFailRate } from '../../fleet/group-fail-rate.js';
import { LEAST_TESTED } from '../../fleet/group-flag.js';

/** What stands out among the fail rates: a question and its answer. */
export interface FailRateSentence {
  readonly question: string;
  readonly answer: string;
}

const KINDS: Readonly<Partial<Record<FailRateGroup, string>>> = { site: 'site', vehicle_kind: 'kind of vehicle', inspector: 'inspector', period: 'period' };
const MOST_NAMED = 4;
/** The characters of a name that a sentence shows. */
const LONGEST_NAME = 60;

/** What stands out among the fail rates, in the words of a manager: what fails most, on which circuit, where, why. */
export function failRateWords({ fail_rates: rates, fleet }: FleetSummary): FailRateSentence[] {
  const of = (group: FailRateGroup): GroupFailRate[] => rates.filter((rate) => rate.group === group);
  const checks = of('check').filter(({ tested, failed }) => tested >= LEAST_TESTED && failed > 0);
  const circuits = of('circuit').filter(({ tested }) => tested >= LEAST_TESTED);
  const apart = (['far higher than the others', 'higher than the others'] as const).flatMap((words) => rates.filter(({ flag }) => flag === words));
  const [reason] = fleet.reasons;
  const [place] = fleet.leak_places;
  return [
    { question: 'Which check fails most?', answer: checks.length === 0 ? `none has failed of those tested at least ${LEAST_TESTED} times` : checks.slice(0, 2).map(rateWords).join('; then ') },
    { question: 'Which circuit?', answer: circuits.length === 0 ? `no check that tells circuits apart was tested ${LEAST_TESTED} times` : circuits.slice(0, MOST_NAMED).map(rateWords).join('; ') },
    { question: 'Where more than elsewhere?', answer: apart.length === 0 ? 'nowhere: at no site, kind of vehicle, inspector or period do more fail than chance explains' : `${apart.slice(0, MOST_NAMED).map(apartWords).join('; ')}${apart.length > MOST_NAMED ? `; and ${apart.length - MOST_NAMED} more below` : ''}` },
    { question: 'For which reason most?', answer: reason ? `${reason.reason}: ${times(reason.failed)}, ${percent(reason.share)} of all failed checks` : 'nothing failed' },
    { question: 'Where was it heard?', answer: place ? `${shown(place.reason)}: ${times(place.failed)}, ${percent(place.share)} of the failed inspections with a place noted` : 'no place was noted on a failed inspection' },
  ];
}

function rateWords({ name, failed, tested, rate }: GroupFailRate): string {
  return `${shown(name)} ${percent(rate!)} (${failed} of ${tested})`;
}

function apartWords({ group, name, flag, failed, tested, rate }: GroupFailRate): string {
  return `${KINDS[group] ?? group} ${shown(name)}: ${flag}, ${percent(rate!)} (${failed} of ${tested})`;
}

function shown(name: string): string {
  const characters = [...name];
  return characters.length > LONGEST_NAME ? `${characters.slice(0, LONGEST_NAME - 1).join('')}…` : name;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}

function times(count: number): string {
  return count === 1 ? 'once' : `${count} times`;
}
