import type { Element, Network, Signal } from '../types.js'
import { contact, lamp, network, resistor, source, threshold } from './notation.js'

/**
 * Lighting of an invented vehicle, about a hundred nodes: battery, six relays fed by switches, eight lamps, each circuit with its
 * fuse, wires, connector pins and a ground path of its own.
 */
export function vehicle(): Network {
  const elements: Element[] = [source('battery', 'post', '0', 25.2, 0.02), resistor('main', 'post', 'bus', 0.002)]
  const signals: Signal[] = [{ type: 'imposed', id: 'key', value: true }]
  for (let k = 0; k < 6; k += 1) {
    chain(elements, `coil${k}`, 'bus', `coil${k}.86`, [0.005, 0.02, 0.003])
    elements.push(
      contact(`switch${k}`, `coil${k}.86`, `coil${k}.in`, 'key'),
      resistor(`winding${k}`, `coil${k}.in`, `coil${k}.85`, 300),
    )
    chain(elements, `return${k}`, `coil${k}.85`, '0', [0.01, 0.004])
    signals.push(threshold(`relay${k}`, `coil${k}.in`, 15, 6, `coil${k}.85`))
    chain(elements, `feed${k}`, 'bus', `relay${k}.30`, [0.004, 0.01])
    elements.push(contact(`contact${k}`, `relay${k}.30`, `relay${k}.87`, `relay${k}`))
  }
  for (let k = 0; k < 8; k += 1) {
    chain(elements, `load${k}`, `relay${k % 6}.87`, `lamp${k}+`, [0.02, 0.003, 0.03])
    elements.push(lamp(`lamp${k}`, `lamp${k}+`, `lamp${k}-`, k % 2 ? 21 : 70, 24))
    chain(elements, `ground${k}`, `lamp${k}-`, '0', [0.005, 0.002])
  }
  return network(elements, signals)
}

function chain(elements: Element[], name: string, from: string, to: string, ohms: number[]): void {
  const at = (n: number) => (n === 0 ? from : n === ohms.length ? to : `${name}/${n}`)
  ohms.forEach((ohm, n) => elements.push(resistor(`${name}.${n}`, at(n), at(n + 1), ohm)))
}
