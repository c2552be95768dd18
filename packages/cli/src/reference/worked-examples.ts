/** Reference kind `worked-examples`: examples from books and standards, by topic. */

import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { clusterExample, repairOrderExample, testSequenceExample } from './plan-worked-example.js'
import { recordsExample } from './reliability-worked-example.js'
import type { CaseResult, Runner } from './runner.js'
import { type Answers, judgeExample, type WorkedExample } from './worked-examples-case.js'
import { equationExample } from './worked-examples-diagnosis.js'
import { intermittentExample } from './worked-examples-intermittent.js'
import { lampExample } from './worked-examples-lamps.js'
import { meterExample } from './worked-examples-measurement.js'
import { networkExample } from './worked-examples-network.js'
import { testabilityExample } from './worked-examples-testability.js'

const judged = (answer: (example: WorkedExample) => Answers) => (example: WorkedExample) => judgeExample(example, answer(example))

/** Who answers what. A topic not in the list is skipped, never passed. */
const TOPICS: Record<string, (example: WorkedExample) => CaseResult> = {
  'model-based diagnosis': judged(equationExample),
  'model-based diagnosis with behavioural modes': judged(lampExample),
  'intermittent faults': judged(intermittentExample),
  measurement: judged(meterExample),
  'test sequencing': judged(testSequenceExample),
  'decision-theoretic troubleshooting': judged(repairOrderExample),
  'decision-theoretic troubleshooting, set-up cost': judged(clusterExample),
  'rates from history': judged(recordsExample),
  'rates and readings': judged(recordsExample),
  'fault simulation': networkExample,
  testability: judged(testabilityExample),
}

function run(example: WorkedExample): CaseResult {
  const { id, topic } = example
  const runTopic = TOPICS[topic]
  if (runTopic === undefined) return { id, outcome: 'skipped', detail: `no way yet to compute the topic '${topic}'` }
  try {
    return runTopic(example)
  } catch (error) {
    return { id, outcome: 'failed', detail: error instanceof Error ? error.message : String(error) }
  }
}

export const workedExamples: Runner = (directory) =>
  readdirSync(directory)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => run(JSON.parse(readFileSync(join(directory, name), 'utf8')) as WorkedExample))
