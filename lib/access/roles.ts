/** What people of the office may be. The vessel has no account. */
export const ROLES = ["inspector", "supervisor"] as const;
export type Role = (typeof ROLES)[number];

export const isRole = (text: unknown): text is Role => ROLES.some((role) => role === text);

/** What a page or an act may ask of who comes. */
export type Need = "anybody" | "signed in" | "supervisor";

/** Whether a person of a role, or nobody signed in, has what is needed. */
export const hasNeed = (role: Role | null, need: Need): boolean =>
  need === "anybody" || (role !== null && (need === "signed in" || role === "supervisor"));

/** Who wants to open a visit, and for whom he stands in today. */
export interface Opener {
  readonly id: string;
  readonly role: Role;
  readonly standsInFor: readonly string[];
}

/** Whether a person may read and change a visit: his own, that of somebody for whom he stands in, or any as supervisor. */
export const mayOpen = ({ id, role, standsInFor }: Opener, { owner }: { readonly owner: string }): boolean =>
  role === "supervisor" || owner === id || standsInFor.includes(owner);

/** Whose visits a person may open; null where all. */
export const ownersFor = ({ id, role, standsInFor }: Opener): readonly string[] | null =>
  role === "supervisor" ? null : [id, ...standsInFor];
