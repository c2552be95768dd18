// Networks like the wiring of a vehicle, of any size, from a seed: a battery, fuse boxes, circuits of wires, switches, connectors
// and loads, ground points shared and strapped together, some links across. Invented; the proportions are our assumption.
import { createRandom } from '@halfsplit/core'

const OPEN = 1e11
const SHORT = 1e-3
const INSULATION = 1e8

/**
 * A network in the form of reference/circuits (`dc-network/1`) with every single fault of it: opens, high resistances and shorts to
 * ground.
 * @param nodes about how many  @param relays share of the circuits switched by a relay  @param lamps are the lamps filaments
 */
export function vehicle({ nodes, relays = 0, lamps = false, seed = 1 }) {
  const maker = new Maker(createRandom(`vehicle ${nodes} ${seed}`), lamps)
  maker.spine(Math.max(1, Math.round(nodes / 60)))
  while (maker.count < nodes - 9) maker.circuit(maker.random.uniform() < relays)
  while (maker.count < nodes) maker.wire(maker.oneOf(maker.taps), maker.node(), 'W')
  maker.links(Math.round(nodes / 50))
  const wiring = maker.elements.filter(({ kind }) => kind === 'resistor')
  const insulation = maker.insulation()
  return {
    name: `vehicle-${maker.count}${relays ? '-relays' : ''}${lamps ? '-lamps' : ''}`,
    nodes: maker.names,
    elements: [...maker.elements, ...insulation],
    faults: [
      ...wiring.map(({ id }) => ({ id: `open:${id}`, element: id, ohm: OPEN })),
      ...wiring.map(({ id, ohm }) => ({ id: `high:${id}`, element: id, ohm: ohm + 0.5 + 20 * maker.random.uniform() })),
      ...insulation.map(({ id, a }) => ({ id: `short:${a}`, element: id, ohm: SHORT })),
    ],
  }
}

class Maker {
  names = []
  elements = []
  boxes = []
  grounds = []
  taps = []
  serial = 0

  constructor(random, lamps) {
    this.random = random
    this.filaments = lamps
  }

  get count() {
    return this.names.length
  }

  node() {
    this.names.push(`n${this.count + 1}`)
    return this.names[this.count - 1]
  }

  oneOf(list) {
    return list[this.random.integer(list.length)]
  }

  add(kind, letter, a, b, values) {
    this.serial += 1
    this.elements.push({ id: `${letter}${this.serial}`, kind, a, b, ...values })
  }

  /** Milliohms of a wire, a joint, a fuse, a closed switch. */
  wire(a, b, letter) {
    this.add('resistor', letter, a, b, { ohm: 0.001 + 0.08 * this.random.uniform() })
  }

  /** Battery, ground points strapped in a chain, fuse boxes in a tree. */
  spine(boxes) {
    const plus = this.node()
    this.add('voltage_source', 'V', plus, '0', { volt: 25.2 })
    const post = this.node()
    this.add('resistor', 'B', plus, post, { ohm: 0.015 })
    this.boxes.push(post)
    for (let k = 0; k <= boxes; k += 1) {
      const ground = this.node()
      this.wire(ground, k ? this.grounds[k - 1] : '0', 'W')
      this.grounds.push(ground)
    }
    for (let k = 0; k < boxes; k += 1) {
      const box = this.node()
      this.wire(this.boxes[this.random.integer(Math.min(this.boxes.length, 4))], box, 'F')
      this.boxes.push(box)
    }
  }

  /** Wires in a row; returns the far end. */
  run(from, letters) {
    return [...letters].reduce((at, letter) => {
      const next = this.node()
      this.wire(at, next, letter)
      return next
    }, from)
  }

  circuit(relay) {
    let feed = this.run(this.oneOf(this.boxes), 'FW')
    if (relay) feed = this.relay(feed)
    else if (this.random.uniform() < 0.15) {
      const next = this.node()
      this.add('resistor', 'S', feed, next, { ohm: OPEN })
      feed = next
    } else feed = this.run(feed, 'S')
    this.taps.push(feed)
    const loads = 1 + this.random.integer(2)
    for (let k = 0; k < loads; k += 1) this.load(this.run(feed, k ? 'W' : 'WX'))
  }

  load(feed) {
    const back = this.node()
    const watt = 5 + 65 * this.random.uniform()
    if (this.filaments && this.random.uniform() < 0.4) {
      const knee = 1.2
      this.add('filament', 'L', feed, back, {
        cold_ohm: 576 / watt / (1 + (24 / knee) ** 2) ** 0.385,
        knee_volt: knee,
        exponent: 0.385,
      })
    } else this.add('resistor', 'L', feed, back, { ohm: 576 / watt })
    this.wire(back, this.oneOf(this.grounds), 'W')
  }

  /** A relay whose coil hangs on its own feed through a switch; returns the far end of its contact. */
  relay(feed) {
    const coilPlus = this.run(feed, 'S')
    const coilMinus = this.node()
    this.add('resistor', 'K', coilPlus, coilMinus, { ohm: 250 + 100 * this.random.uniform() })
    const coil = `K${this.serial}`
    this.wire(coilMinus, this.oneOf(this.grounds), 'W')
    const out = this.node()
    const levels = { pull_in_volt: 15, drop_out_volt: 6 }
    this.add('contact', 'C', feed, out, { coil, ...levels, closed_ohm: 0.01, open_ohm: OPEN })
    return out
  }

  /** Links across: second straps, crossed feeds. */
  links(count) {
    for (let k = 0; k < count; k += 1) {
      const [a, b] =
        this.random.uniform() < 0.5
          ? [this.oneOf(this.grounds), this.oneOf(this.grounds)]
          : [this.oneOf(this.taps), this.oneOf(this.taps)]
      if (a !== b) this.wire(a, b, 'W')
    }
  }

  insulation() {
    return this.names.slice(1).map((name) => ({ id: `I_${name}`, kind: 'resistor', a: name, b: '0', ohm: INSULATION }))
  }
}
