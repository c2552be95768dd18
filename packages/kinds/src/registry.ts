import { airCheckValve } from './air/air-check-valve.js'
import { airClutch } from './air/air-clutch.js'
import { airDryer } from './air/air-dryer.js'
import { airSupply } from './air/air-supply.js'
import { airTank } from './air/air-tank.js'
import { brakeChamber } from './air/brake-chamber.js'
import { compressor } from './air/compressor.js'
import { fitting } from './air/fitting.js'
import { governor } from './air/governor.js'
import { hose } from './air/hose.js'
import { pressureGauge } from './air/pressure-gauge.js'
import { protectionValve } from './air/protection-valve.js'
import { regulator } from './air/regulator.js'
import { safetyValve } from './air/safety-valve.js'
import { screen } from './air/screen.js'
import { solenoidValve52 } from './air/solenoid-valve-5-2.js'
import { supplyTank } from './air/supply-tank.js'
import { delayModule } from './control/delay-module.js'
import { preheatModule } from './control/preheat-module.js'
import { alternator } from './electrical/alternator.js'
import { battery } from './electrical/battery.js'
import { contactor } from './electrical/contactor.js'
import { diode } from './electrical/diode.js'
import { fuse } from './electrical/fuse.js'
import { ground } from './electrical/ground.js'
import { heaterPlug } from './electrical/heater-plug.js'
import { keySwitch } from './electrical/key-switch.js'
import { lamp } from './electrical/lamp.js'
import { load } from './electrical/load.js'
import { motor } from './electrical/motor.js'
import { ntcSender } from './electrical/ntc-sender.js'
import { pin } from './electrical/pin.js'
import { pressureSwitch } from './electrical/pressure-switch.js'
import { relay } from './electrical/relay.js'
import { resistorBlock } from './electrical/resistor-block.js'
import { resistor } from './electrical/resistor.js'
import { solenoidValve22 } from './electrical/solenoid-valve-2-2.js'
import { solenoidValve32 } from './electrical/solenoid-valve-3-2.js'
import { splice } from './electrical/splice.js'
import { starter } from './electrical/starter.js'
import { stepSwitch } from './electrical/step-switch.js'
import { manualSwitch } from './electrical/switch.js'
import { temperatureSwitch } from './electrical/temperature-switch.js'
import { twinLamp } from './electrical/twin-lamp.js'
import { wire } from './electrical/wire.js'
import { accumulator } from './liquid/accumulator.js'
import { angleCylinder } from './liquid/angle-cylinder.js'
import { checkValve } from './liquid/check-valve.js'
import { hydraulicValve22 } from './liquid/hydraulic-valve-2-2.js'
import { hydraulicValve43 } from './liquid/hydraulic-valve-4-3.js'
import { liftCylinder } from './liquid/lift-cylinder.js'
import { oilHose } from './liquid/oil-hose.js'
import { powerPack } from './liquid/power-pack.js'
import { reliefValve } from './liquid/relief-valve.js'
import { stopCock } from './liquid/stop-cock.js'
import { throttle } from './liquid/throttle.js'
import { coolantPump } from './rotation/coolant-pump.js'
import { fan } from './rotation/fan.js'
import { cabAir } from './thermal/cab-air.js'
import { coldEngine } from './thermal/cold-engine.js'
import { coolantValve } from './thermal/coolant-valve.js'
import { coolant } from './thermal/coolant.js'
import { engineCoolant } from './thermal/engine-coolant.js'
import { heaterMatrix } from './thermal/heater-matrix.js'
import { radiator } from './thermal/radiator.js'
import { thermostat } from './thermal/thermostat.js'
import type { Kind } from './kind.js'

const ALL: readonly Kind[] = [
  airCheckValve,
  airClutch,
  airDryer,
  airSupply,
  airTank,
  brakeChamber,
  compressor,
  fitting,
  governor,
  hose,
  pressureGauge,
  protectionValve,
  regulator,
  safetyValve,
  screen,
  solenoidValve52,
  supplyTank,
  delayModule,
  preheatModule,
  alternator,
  battery,
  contactor,
  diode,
  fuse,
  ground,
  heaterPlug,
  keySwitch,
  lamp,
  load,
  motor,
  ntcSender,
  pin,
  pressureSwitch,
  relay,
  resistorBlock,
  resistor,
  solenoidValve22,
  solenoidValve32,
  splice,
  starter,
  stepSwitch,
  manualSwitch,
  temperatureSwitch,
  twinLamp,
  wire,
  accumulator,
  angleCylinder,
  checkValve,
  hydraulicValve22,
  hydraulicValve43,
  liftCylinder,
  oilHose,
  powerPack,
  reliefValve,
  stopCock,
  throttle,
  coolantPump,
  fan,
  cabAir,
  coldEngine,
  coolantValve,
  coolant,
  engineCoolant,
  heaterMatrix,
  radiator,
  thermostat,
]

/** Every kind of part, by name. Written by scripts/list-kinds.mjs from the files of the folders: adding a kind is adding a file. */
export const KINDS: ReadonlyMap<string, Kind> = new Map(ALL.map((kind) => [kind.name, kind]))
