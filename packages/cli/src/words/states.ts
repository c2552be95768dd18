import { formatValue } from '@halfsplit/core'
import { stateMinutes } from '@halfsplit/diagnosis'
import { type Imposed, recipe, type System } from '@halfsplit/system'
import { listed } from './layout.js'
import { spoken } from './names.js'

/** "3 min", "under 1 min" */
export const minutesWords = (minutes: number): string => (minutes < 0.75 ? 'under 1 min' : `${Math.round(minutes)} min`)

/** A state by its name and the description's own words; where it has none, by all that is switched and imposed in it. */
export function stateText(system: System, name: string): string {
  const state = system.states.get(name)
  if (!state) return name
  const how = state.about || listed([...imposedIn(system, name).values()].map((one) => imposedWords(system, one)))
  return [`${name}${how ? `: ${how}` : ''}`, ...(state.dead ? ['power off'] : [])].join('; ')
}

/** How the machine is brought from one state into another: by way of which, what is changed, how long it takes. */
export function goToState(system: System, from: string, to: string): string {
  const before = imposedIn(system, from)
  const after = imposedIn(system, to)
  const changed = [...new Set([...before.keys(), ...after.keys()])]
    .map((key) => after.get(key) ?? atRest(system, before.get(key) as Imposed))
    .filter((one) => before.get(`${one.part}.${one.setting}`)?.value !== one.value)
  const onTheWay = wayBetween(system, from, to)
  const way = onTheWay.length > 0 ? `by way of ${listed(onTheWay)}` : ''
  const minutes = stateMinutes(system, from, to)
  const steps = [stateText(system, to), way, listed(changed.map((one) => imposedWords(system, one)))]
  return `Machine in state ${[...steps, minutes >= 1 ? minutesWords(minutes) : ''].filter((word) => word !== '').join('; ')}.`
}

/** States a recipe goes through that the machine has not been through yet. */
function wayBetween(system: System, from: string, to: string): string[] {
  const been = new Set(lineage(system, from))
  return lineage(system, to)
    .filter((name) => name !== to && !been.has(name))
    .reverse()
}

function lineage(system: System, to: string): string[] {
  const names: string[] = []
  for (let name: string | undefined = to; name !== undefined; name = system.states.get(name)?.from) names.push(name)
  return names
}

/** All that is switched and imposed in a state, by `PART.setting`, the whole recipe taken together. */
function imposedIn(system: System, name: string): Map<string, Imposed> {
  return new Map(
    recipe(system, name)
      .flat()
      .map((one) => [`${one.part}.${one.setting}`, one]),
  )
}

/** A setting as the parked machine has it. */
const atRest = (system: System, { part, setting, value }: Imposed): Imposed => ({
  part,
  setting,
  value: system.defaults.get(`${part}.${setting}`) ?? value,
  sd: 0,
})

function imposedWords(system: System, { part, setting, value, sd }: Imposed): string {
  const settings = system.parts.get(part)?.kind.settings ?? {}
  const kind = settings[setting]
  const name = setting === 'position' || Object.keys(settings).length === 1 ? part : `${part} ${spoken(setting)}`
  if (typeof value === 'string' || !('dimension' in kind)) return `${name} ${value}`
  const shown = formatValue(value, kind.dimension)
  const spread = kind.dimension === 'temperature' ? 'temperatureDifference' : kind.dimension
  return sd > 0 && kind.dimension !== 'absolutePressure'
    ? `${name} ${shown} +- ${formatValue(2 * sd, spread)}`
    : `${name} ${shown}`
}
