import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { againstAbsence, lastsOn, meet } from "../../lib/access/absence.ts";
import { mayOpen, ownersFor, ROLES } from "../../lib/access/roles.ts";
import type { Absence } from "../../lib/store/people.ts";

const PEOPLE = ["anna", "boris", "clara", "dora"] as const;
const dayOf = (day: number): string => `2026-03-${String(day).padStart(2, "0")}`;
const day = fc.integer({ min: 1, max: 12 });
const person = fc.constantFrom(...PEOPLE);
const absence = fc.record({ person, standsIn: person, a: day, b: day }).map(
  ({ person: away, standsIn, a, b }): Absence => ({
    id: `${away}${a}${b}${standsIn}`,
    person: away,
    standsIn,
    from: dayOf(Math.min(a, b)),
    to: dayOf(Math.max(a, b)),
    told: { who: "odo", when: "2026-03-01T00:00:00Z" },
  }),
);
const today = dayOf(1);
const nameOf = (id: string): string | null => (PEOPLE.some((one) => one === id) ? id : null);
const days = Array.from({ length: 12 }, (_, place) => dayOf(place + 1));

describe("absence", () => {
  test("two times meet exactly where a day lies in both", () => {
    fc.assert(
      fc.property(absence, absence, (one, other) => {
        expect(meet(one, other)).toBe(days.some((on) => lastsOn(one, on) && lastsOn(other, on)));
      }),
    );
  });

  test("of what may be told one after the other nobody stands in who is away, nobody is away twice, nobody stands in for himself", () => {
    fc.assert(
      fc.property(fc.array(absence, { maxLength: 12 }), (wanted) => {
        const kept: Absence[] = [];
        for (const one of wanted) if (againstAbsence(one, { today, others: kept, nameOf }) === null) kept.push(one);
        for (const on of days) {
          const away = kept.filter((one) => lastsOn(one, on));
          expect(new Set(away.map((one) => one.person)).size).toBe(away.length);
          for (const { standsIn } of away) expect(away.map((one) => one.person)).not.toContain(standsIn);
        }
        // What is alone refused nobody who is somebody else.
        for (const one of wanted) expect(againstAbsence(one, { today, others: [], nameOf }) === null).toBe(one.person !== one.standsIn);
      }),
    );
  });

  test("one that is over stands in nobody's way, and lasts on no day", () => {
    fc.assert(
      fc.property(absence, absence, (one, other) => {
        const over = { ...one, over: { who: "odo", when: "2026-03-01T00:00:00Z" } };
        expect(againstAbsence(other, { today, others: [over], nameOf })).toEqual(againstAbsence(other, { today, others: [], nameOf }));
        expect(days.some((on) => lastsOn(over, on))).toBe(false);
      }),
    );
  });

  test.each([
    [{ from: "2026-03-05", to: "2026-03-04" }, "to", "Last day: given 2026-03-04; wanted the first day, 2026-03-05, or a later one"],
    [{ from: "2026-02-01", to: "2026-02-03" }, "to", "Last day: given 2026-02-03, which is past; wanted today, 2026-03-01, or a later one"],
    [{ standsIn: "anna" }, "standsIn", "Who stands in: given the same person; wanted somebody else"],
    [{ standsIn: "" }, "standsIn", "Who stands in: given nobody of the office; wanted one of the list"],
    [
      { standsIn: "clara" },
      "standsIn",
      "Who stands in: given clara, who is away from 2026-03-04 to 2026-03-06; wanted somebody who is there on all these days",
    ],
  ] as const)("%j is told by its field, with what is wanted", (given, field, says) => {
    const clara: Absence = {
      id: "c",
      person: "clara",
      standsIn: "dora",
      from: "2026-03-04",
      to: "2026-03-06",
      told: { who: "", when: "" },
    };
    const asked = { person: "anna", standsIn: "boris", from: "2026-03-02", to: "2026-03-04", ...given };
    expect(againstAbsence(asked, { today, others: [clara], nameOf })).toEqual({ field, says });
  });
});

test("a visit is opened by its inspector, who stands in for him, and every supervisor; the list shows just those", () => {
  const opener = fc.record({ id: person, role: fc.constantFrom(...ROLES), standsInFor: fc.uniqueArray(person) });
  fc.assert(
    fc.property(opener, person, (who, owner) => {
      const may = who.role === "supervisor" || who.id === owner || who.standsInFor.some((one) => one === owner);
      expect(mayOpen(who, { owner })).toBe(may);
      const owners = ownersFor(who);
      expect(owners === null || owners.includes(owner)).toBe(may);
    }),
  );
});
