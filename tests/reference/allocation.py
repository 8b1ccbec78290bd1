"""Least cost of each week, found by an integer solver that is not ours.

Reads one week a line: (low, high, [[(amount, cost), ...], ...]), one list for each session.
Writes one line a week: the least cost of one amount for each session with a sum from low to high,
or "none"; then a line with the seconds from the first week to the last, start of the program not counted.
How the weeks come about is said in README.md beside this file.
"""

import ast
import os
import sys
import time

import highspy


def least_cost(low, high, sessions):
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.0)
    solver.setOptionValue("mip_feasibility_tolerance", 1e-9)
    picks = [[solver.addBinary() for _ in session] for session in sessions]
    for session in picks:
        solver.addConstr(sum(session) == 1)
    # In whole units: coefficients near one keep the solver's rounding far below a thousandth.
    total = sum(
        pick * (amount / 1000)
        for session, chosen in zip(sessions, picks)
        for (amount, _), pick in zip(session, chosen)
    )
    solver.addConstr(total >= low / 1000)
    solver.addConstr(total <= high / 1000)
    solver.minimize(
        sum(
            pick * (cost / 1000)
            for session, chosen in zip(sessions, picks)
            for (_, cost), pick in zip(session, chosen)
        )
    )
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"the solver ended with {status}")
    # The cost is added up again from the chosen amounts, in whole numbers.
    return sum(
        cost
        for session, chosen in zip(sessions, picks)
        for (_, cost), pick in zip(session, chosen)
        if solver.val(pick) > 0.5
    )


def main():
    # The solver greets on standard output: answers go where it cannot reach.
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "w")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    weeks = [ast.literal_eval(line) for line in sys.stdin]
    begin = time.perf_counter()
    for low, high, sessions in weeks:
        cost = least_cost(low, high, sessions)
        print("none" if cost is None else cost, file=answers)
    print("seconds", time.perf_counter() - begin, file=answers)
    answers.close()


main()
