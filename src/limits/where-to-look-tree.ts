import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { joinGiven } from './join-given.js';
import type { LikelyPlacePlan } from './likely-place-tree.js';

/** The name of the sentences that say where to look first. */
export const WHERE_TO_LOOK = 'overall:where_to_look';

/** The name of what a topic says. */
export const topicName = (topic: string): string => `places:${topic}`;

/** The topics of the rules, in order of first mention. */
export function topicsOf(places: readonly LikelyPlacePlan[]): string[] {
  return [...new Set(places.map(({ place }) => place.topic))];
}

/** What a topic says of an inspection: the sentence of its first rule that holds; blank when none does. */
export function topicTree(topic: string, places: readonly LikelyPlacePlan[]): Tree {
  const rules = places.filter(({ place }) => place.topic === topic);
  const last = rules.at(-1)!;
  const lastOnly = call('only_if', last.holds, constant(last.place.say));
  return rules.slice(0, -1).reduceRight<Tree>((otherwise, { holds, place }) => call('choose', holds, constant(place.say), otherwise), lastOnly);
}

/** What all topics say, one after the other; blank when none says anything. A rule needs a failed check, so nothing is said of an inspection that does not fail. */
export function whereToLookTree(topics: readonly string[]): Tree {
  return joinGiven(topics.map((topic) => nameOf(topicName(topic), 'text')));
}
