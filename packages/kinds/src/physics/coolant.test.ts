import { expect, it } from 'vitest'
import {
  boilingPoint,
  coolantDensity,
  coolantHeat,
  freezingPoint,
  glycolFromFreezing,
  massShare,
  volumeShare,
} from './coolant.js'

it('plain water boils at 99.97 degC, and half and half at 108 degC', () => {
  expect(boilingPoint(0)).toBeCloseTo(373.124, 2)
  expect(boilingPoint(massShare(0.5))).toBeCloseTo(381.2, 0)
})

it('each step of cap pressure raises the boiling point less than the one before', () => {
  const at = (psi: number) => boilingPoint(0.5, 101325 + psi * 6894.757)
  expect(at(4) - at(0)).toBeGreaterThan(at(8) - at(4))
  expect(at(8)).toBeGreaterThan(at(4))
})

it('by mass and by volume turn round, and the tester finds the mix', () => {
  expect(volumeShare(massShare(0.4))).toBeCloseTo(0.4, 12)
  expect(glycolFromFreezing(freezingPoint(0.42))).toBeCloseTo(0.42, 9)
})

// Water at 20 degC: 998.2 kg/m3 and 4182 J/(kg K), general text; held to half a per cent, at the edge of the polynomials' range.
it('with no glycol it is about water', () => {
  expect(coolantDensity(0, 293.15) / 998.2).toBeCloseTo(1, 2)
  expect(coolantHeat(0, 293.15) / 4182).toBeCloseTo(1, 2)
  expect(freezingPoint(0)).toBeCloseTo(273.15, 0)
})

it('outside the measured range it says so', () => {
  expect(() => coolantDensity(0.8, 300)).toThrow(/mass share of glycol/)
  expect(() => coolantHeat(0.5, 400)).toThrow(/temperature of the coolant/)
  expect(() => boilingPoint(1)).toThrow(/mass share of glycol/)
  expect(() => glycolFromFreezing(200)).toThrow(/freezing point/)
})
