"""Sparse LU of the sound network (SuperLU) with Sherman-Morrison-Woodbury updates for every fault.

Reads {nodes, elements, faults} as JSON from the first file, writes all voltages of all faults as doubles to the second, and
prints one line of JSON: seconds of processor time by way. Two ways: fault by fault, and all faults of a block in one batch of columns.
Contacts are followed from rest, round by round, from the factorisations of the states the sound network passes through.
"""
import json
import sys
import time

import numpy as np
import scipy
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

BLOCK = 256
MOST_ROUNDS = 20


class Net:
    def __init__(self, nodes, elements):
        self.index = {name: i for i, name in enumerate(nodes)}
        self.index['0'] = -1
        self.size = len(nodes)
        self.held = {}
        for e in elements:
            if e['kind'] == 'voltage_source':
                assert e['b'] == '0'
                self.held[self.index[e['a']]] = e['volt']
        self.resistors = [e for e in elements if e['kind'] == 'resistor']
        self.contacts = [e for e in elements if e['kind'] == 'contact']
        self.at = {e['id']: (self.index[e['a']], self.index[e['b']], 1 / e['ohm']) for e in self.resistors}
        coils = {e['id']: e for e in elements}
        self.coil = [(self.index[coils[c['coil']]['a']], self.index[coils[c['coil']]['b']]) for c in self.contacts]
        self.ends = [(self.index[c['a']], self.index[c['b']]) for c in self.contacts]
        self.on = np.array([1 / c['closed_ohm'] for c in self.contacts])
        self.off = np.array([1 / c['open_ohm'] for c in self.contacts])
        self.rise = np.array([c['pull_in_volt'] for c in self.contacts])
        self.fall = np.array([c.get('drop_out_volt', c['pull_in_volt']) for c in self.contacts])

    def column(self, a, b):
        """Incidence of a branch among the unknowns; held ends count as known, see `drive`."""
        u = np.zeros(self.size)
        if a >= 0 and a not in self.held:
            u[a] = 1
        if b >= 0 and b not in self.held:
            u[b] = -1
        return u

    def known(self, a, b):
        """What held ends put across a branch."""
        return (self.held.get(a, 0.0)) - (self.held.get(b, 0.0))


class Base:
    """Factorisation and solution for one set of contact states, with the columns of its contacts."""

    def __init__(self, net, state):
        self.state = state
        branches = list(net.at.values())
        for (a, b), on, off, closed in zip(net.ends, net.on, net.off, state):
            branches.append((a, b, on if closed else off))
        rows, cols, vals = [], [], []
        rhs = np.zeros(net.size)
        for a, b, g in branches:
            for i, j in ((a, b), (b, a)):
                if i < 0 or i in net.held:
                    continue
                rows.append(i), cols.append(i), vals.append(g)
                if j in net.held:
                    rhs[i] += g * net.held[j]
                elif j >= 0:
                    rows.append(i), cols.append(j), vals.append(-g)
        for i, volt in net.held.items():
            rows.append(i), cols.append(i), vals.append(1.0)
            rhs[i] = volt
        self.lu = splu(coo_matrix((vals, (rows, cols)), shape=(net.size, net.size)).tocsc())
        self.x = self.lu.solve(rhs)
        self.gates = [self.lu.solve(net.column(a, b)) for a, b in net.ends]


def across(net, x, a, b):
    va = x[a] if a >= 0 else 0.0
    vb = x[b] if b >= 0 else 0.0
    return va - vb


def wanted(net, x, state):
    if not net.contacts:
        return state
    seen = np.array([across(net, x, a, b) for a, b in net.coil])
    return np.where(state, seen > net.fall, seen >= net.rise)


def updated(net, base, z, v, dg, state):
    """One fault on one base: rank one, and one more for every contact that stands otherwise than in the base."""
    others = np.flatnonzero(state != base.state)
    a, b = v
    if others.size == 0:
        return base.x - z * (dg * across(net, base.x, a, b) / (1 + dg * across(net, z, a, b)))
    ends = [v] + [net.ends[k] for k in others]
    columns = np.column_stack([z] + [base.gates[k] for k in others])
    steps = np.array([dg] + [(1 if state[k] else -1) * (net.on[k] - net.off[k]) for k in others])
    inner = np.array([[across(net, columns[:, j], *e) for j in range(len(ends))] for e in ends])
    right = np.array([across(net, base.x, *e) for e in ends])
    return base.x - columns @ np.linalg.solve(np.diag(1 / steps) + inner, right)


def follow(net, bases, columns, v, dg, first):
    """Contacts from rest until they agree; None where they come round to a state met before."""
    state, met = first, set()
    for _ in range(MOST_ROUNDS):
        key = state.tobytes()
        if key in met:
            return None
        met.add(key)
        base = min(range(len(bases)), key=lambda i: int(np.sum(bases[i].state != state)))
        x = updated(net, bases[base], columns(base), v, dg, state)
        then = wanted(net, x, state)
        if np.array_equal(then, state):
            return x
        state = then
    return None


def one_by_one(net, bases, faults, out):
    first = np.zeros(len(net.contacts), dtype=bool)
    for n, (a, b, dg) in enumerate(faults):
        known = {}

        def columns(i):
            if i not in known:
                known[i] = bases[i].lu.solve(net.column(a, b))
            return known[i]

        x = follow(net, bases, columns, (a, b), dg, first)
        out[n] = np.nan if x is None else x


def in_batches(net, bases, faults, out):
    first = np.zeros(len(net.contacts), dtype=bool)
    ends = np.array([(a, b) for a, b, _ in faults])
    steps = np.array([dg for _, _, dg in faults])
    for begin in range(0, len(faults), BLOCK):
        part = slice(begin, min(begin + BLOCK, len(faults)))
        count = part.stop - part.start
        rhs = np.zeros((net.size, count))
        for n in range(count):
            rhs[:, n] = net.column(*faults[begin + n][:2])
        solved = [None] * len(bases)

        def block(i):
            if solved[i] is None:
                solved[i] = bases[i].lu.solve(rhs)
            return solved[i]

        if not net.contacts:
            z, x = block(0), bases[0].x
            pad_x, pad_z = np.append(x, 0.0), np.vstack([z, np.zeros(count)])
            a, b = ends[part, 0], ends[part, 1]
            span = np.arange(count)
            share = steps[part] * (pad_x[a] - pad_x[b]) / (1 + steps[part] * (pad_z[a, span] - pad_z[b, span]))
            out[part] = x - (z * share).T
            continue
        for n in range(count):
            a, b, dg = faults[begin + n]
            x = follow(net, bases, lambda i, n=n: block(i)[:, n], (a, b), dg, first)
            out[begin + n] = np.nan if x is None else x


def sound_bases(net):
    state, bases = np.zeros(len(net.contacts), dtype=bool), []
    for _ in range(MOST_ROUNDS):
        bases.append(Base(net, state))
        then = wanted(net, bases[-1].x, state)
        if any(np.array_equal(then, base.state) for base in bases):
            return bases
        state = then
    return bases


def main():
    job = json.load(open(sys.argv[1]))
    seconds = {}
    for name, way in (('one by one', one_by_one), ('in batches', in_batches)):
        out = np.empty((len(job['faults']), len(job['nodes'])))
        begun = time.process_time()
        net = Net(job['nodes'], job['elements'])
        faults = []
        for f in job['faults']:
            a, b, g = net.at[f['element']]
            faults.append((a, b, 1 / f['ohm'] - g))
        way(net, sound_bases(net), faults, out)
        seconds[name] = time.process_time() - begun
    out.tofile(sys.argv[2])
    print(json.dumps({'scipy': scipy.__version__, 'seconds': seconds}))


main()
