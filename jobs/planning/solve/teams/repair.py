"""What is the best way to make some teams anew while all the rest of a plan stays as it is?

A CP-SAT model over the opened teams, the people of these and those idle on their days, the visits
of these teams and some more that may come in (from other teams or from those left out). Its goal
is the completion and, far behind it, that worthy visits come on early days. As the plan at hand
is among its answers it never gets worse.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from jobs.planning.solve.teams.draft import ALL, WEIGHTS, Draft, Team
from jobs.planning.solve.teams.model import Model
from jobs.planning.solve.teams.worth import one_worker

FAR_BEHIND = 1000  # one unit of completion counts as much as so much worth one day earlier
LONGEST = 5.0  # seconds; only where a time limit is kept


@dataclass(frozen=True)
class Opened:
    """Teams to make anew, visits that may come in, and what each visit early on is worth."""

    teams: frozenset[Team]
    more: Sequence[int]
    worth: Sequence[int]


@dataclass
class Choice:
    """Of one visit: its start, and a variable for each thing that can become of it."""

    start: cp_model.IntVar
    teams: Mapping[Team, cp_model.IntVar]
    stays: cp_model.IntVar | None
    out: cp_model.IntVar | None


@dataclass
class Repair:
    """The question of one repair; `solve` answers it."""

    model: Model
    draft: Draft
    opened: Opened
    asking: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    goal: list[cp_model.LinearExprT] = field(default_factory=list)

    def __post_init__(self) -> None:
        inside = [i for i, team in self.draft.place.items() if team in self.opened.teams]
        self.visits = sorted({*inside, *self.opened.more})
        self.free = frozenset(self.visits)
        self.days = sorted({team[0] for team in self.opened.teams})
        self.teams = sorted(self.opened.teams) + [self._new(day) for day in self.days]
        self.fixed = self.draft.ends(self.model, but=self.free)
        self.people = {day: self._people(day) for day in self.days}
        self.comes = self._teams_of_people()
        self.choices = {i: self._choice(i) for i in self.visits}
        self._together()
        self._able()
        self._order()
        self._cost()
        self._completion()

    def _new(self, day: int) -> Team:
        return day, 1 + max((n for d, n in self.draft.members if d == day), default=-1)

    def _people(self, day: int) -> list[int]:
        busy = {
            person
            for team, members in self.draft.members.items()
            if team[0] == day and team not in self.opened.teams
            for person in members
        }
        return [
            p for p in range(len(self.model.people)) if self.model.here[day, p] and p not in busy
        ]

    def _flag(self, now: bool) -> cp_model.IntVar:
        flag = self.asking.new_bool_var("")
        self.asking.add_hint(flag, now)
        return flag

    def _teams_of_people(self) -> dict[tuple[Team, int], cp_model.IntVar]:
        """Who is in which opened team: in one a day at most."""
        comes = {
            (team, p): self._flag(p in self.draft.members.get(team, frozenset()))
            for team in self.teams
            for p in self.people[team[0]]
        }
        for day in self.days:
            for p in self.people[day]:
                self.asking.add_at_most_one(comes[team, p] for team in self.teams if team[0] == day)
        return comes

    def _bounds(self, visit: int) -> tuple[int, int]:
        """First start and last start between the visits that stay as they are."""
        task = self.model.tasks[visit]
        first, last = task.earliest, self.model.days[-1].span.end - task.visit.duration
        for lag in task.after:
            if lag.visit not in self.free:
                if lag.visit not in self.draft.place:
                    return 1, 0
                first = max(first, self.draft.end(self.model, lag.visit) + lag.least)
        for lag in task.before:
            if lag.visit in self.draft.place and lag.visit not in self.free:
                last = min(last, self.draft.start[lag.visit] - lag.least - task.visit.duration)
        return first, last

    def _spans(self, visit: int) -> dict[Team, tuple[int, int]]:
        """When it could start with each opened team whose people could be enough for it."""
        task, (first, last) = self.model.tasks[visit], self._bounds(visit)
        found = {}
        for team in self.teams:
            span = self.model.days[team[0]].span
            earliest, latest = max(first, span.start), min(last, span.end - task.visit.duration)
            able = self.model.able[self.people[team[0]]].sum(axis=0)
            if earliest <= latest and (able >= task.need).all() and not task.visit.held:
                found[team] = earliest, latest
        return found

    def _choice(self, visit: int) -> Choice:
        """Exactly one thing becomes of a visit; each says when it starts."""
        now, spans = self.draft.place.get(visit), self._spans(visit)
        may_stay = now is not None and now not in self.opened.teams
        may_go = self._may_go(visit)
        starts = [*spans.values()]
        if may_stay:
            starts.append((self.draft.start[visit],) * 2)
        if may_go or not starts:
            starts.append((0, 0))
        domain = cp_model.Domain.from_intervals([list(each) for each in starts])
        start = self.asking.new_int_var_from_domain(domain, "")
        self.asking.add_hint(start, self.draft.start.get(visit, 0))
        teams = {team: self._flag(now == team) for team in spans}
        for team, (first, last) in spans.items():
            self.asking.add_linear_constraint(start, first, last).only_enforce_if(teams[team])
        stays = self._at(start, self.draft.start[visit], True) if may_stay else None
        out = self._at(start, 0, now is None) if may_go else None
        self.asking.add_exactly_one([*teams.values(), *(f for f in (stays, out) if f is not None)])
        self._early(visit, teams, stays)
        return Choice(start, teams, stays, out)

    def _at(self, start: cp_model.IntVar, when: int, now: bool) -> cp_model.IntVar:
        flag = self._flag(now)
        self.asking.add(start == when).only_enforce_if(flag)
        return flag

    def _may_go(self, visit: int) -> bool:
        task = self.model.tasks[visit]
        needed = any(lag.visit in self.draft.place and lag.visit not in self.free
                     for lag in task.before)  # fmt: skip
        return task.visit.optional and not needed

    def _early(
        self, visit: int, teams: Mapping[Team, cp_model.IntVar], stays: cp_model.IntVar | None
    ) -> None:
        worth = self.opened.worth[visit]
        self.goal += [worth * team[0] * flag for team, flag in teams.items()]
        if stays is not None:
            self.goal.append(worth * self.draft.place[visit][0] * stays)

    def _together(self) -> None:
        """A team does one visit at a time."""
        for team in self.teams:
            does = [(i, c, c.teams[team]) for i, c in self.choices.items() if team in c.teams]
            span = self.model.days[team[0]].span
            long = {i: self.model.tasks[i].visit.duration for i, _, _ in does}
            self.asking.add_no_overlap(
                self.asking.new_optional_fixed_size_interval_var(c.start, long[i], flag, "")
                for i, c, flag in does
            )
            self.asking.add(sum(long[i] * flag for i, _, flag in does) <= span.end - span.start)

    def _able(self) -> None:
        """A team is enough for whatever it does."""
        for team in self.teams:
            for i, choice in self.choices.items():
                if team in choice.teams:
                    for skill, count in self.model.tasks[i].asks.items():
                        have = self._have(team, skill)
                        self.asking.add(have >= count * choice.teams[team])

    def _have(self, team: Team, skill: int) -> cp_model.LinearExprT:
        able = (p for p in self.people[team[0]] if self.model.able[p, skill])
        return sum(self.comes[team, p] for p in able)

    def _order(self) -> None:
        """What comes after another is out with it, or starts once that has ended."""
        for i, choice in self.choices.items():
            for lag in self.model.tasks[i].after:
                if lag.visit in self.free:
                    before = self.choices[lag.visit]
                    end = before.start + self.model.tasks[lag.visit].visit.duration
                    late = self.asking.add(choice.start >= end + lag.least)
                    if choice.out is not None:
                        late.only_enforce_if(~choice.out)
                    if before.out is not None and choice.out is not None:
                        self.asking.add_implication(before.out, choice.out)
                    elif before.out is not None:
                        self.asking.add(before.out == 0)

    def _cost(self) -> None:
        if self.model.may_cost is not None:
            cost = {i: task.visit.cost for i, task in enumerate(self.model.tasks)}
            spent = sum(cost[i] for i in self.draft.left_out(self.model) - self.free)
            more = [cost[i] * c.out for i, c in self.choices.items() if c.out is not None]
            self.asking.add(sum(more) <= self.model.may_cost - spent)

    def _completion(self) -> None:
        """The latest ends, no earlier than those of the visits that are not asked about."""
        horizon, now = self.model.days[-1].span.end, self.draft.ends(self.model)
        for priority, weight in {**WEIGHTS, ALL: 1}.items():
            latest = self.asking.new_int_var(self.fixed[priority], max(horizon, 0), "")
            self.asking.add_hint(latest, now[priority])
            for i, choice in self.choices.items():
                visit = self.model.tasks[i].visit
                last = max(choice.start.proto.domain) + visit.duration
                if priority in (ALL, visit.priority) and last > self.fixed[priority]:
                    ended = self.asking.add(latest >= choice.start + visit.duration)
                    if choice.out is not None:
                        ended.only_enforce_if(~choice.out)
            self.goal.append(FAR_BEHIND * weight * latest)

    def solve(self, effort: float, seed: int, seconds: float | None = None) -> tuple[Draft, bool]:
        """The plan repaired (the same one where nothing was found), and whether it is the best
        there is. `effort` in deterministic seconds."""
        self.asking.minimize(sum(self.goal))
        solver = one_worker(effort, seed)
        if seconds is not None:
            solver.parameters.max_time_in_seconds = max(0.01, min(LONGEST, seconds))
        found = solver.solve(self.asking)
        if found not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return self.draft, False
        return self._read(solver), found == cp_model.OPTIMAL

    def _read(self, solver: cp_model.CpSolver) -> Draft:
        """The draft with what was asked about as the solver says."""
        draft = self.draft.copy()
        for team in self.teams:
            people = self.people[team[0]]
            draft.members[team] = frozenset(
                p for p in people if solver.boolean_value(self.comes[team, p])
            )
        for i, choice in self.choices.items():
            if choice.stays is not None and solver.boolean_value(choice.stays):
                continue
            draft.place.pop(i, None)
            draft.start.pop(i, None)
            for team, flag in choice.teams.items():
                if solver.boolean_value(flag):
                    draft.place[i], draft.start[i] = team, solver.value(choice.start)
        draft.thin_out(self.model)
        draft.tighten(self.model)
        return draft
