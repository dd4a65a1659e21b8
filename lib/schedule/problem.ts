/** Minutes from midnight before the first day of the visit. */
export type Minute = number;

/** A time from one minute up to another. */
export interface Span {
  readonly from: Minute;
  readonly to: Minute;
}

/** Something of which only so much is to be had at once: a person, a set, the load that can be spared. */
export interface Resource {
  readonly id: string;
  readonly capacity: number;
  /** When it is to be had, in order and apart from each other. What uses it lies within one of them. */
  readonly open: readonly Span[];
}

/** A store of starting energy in a unit of its own, such as starts or bar. It is recharged as time passes, up to what it holds. */
export interface EnergyStore {
  readonly id: string;
  readonly holds: number;
  /** What is in it as the first day begins. */
  readonly first: number;
  /** It never comes under this. */
  readonly floor: number;
  /** What is recharged in a minute. */
  readonly refill: number;
}

export interface Use {
  readonly resource: string;
  readonly amount: number;
  /** Minutes for which it stays taken when the task is over; below 0 it is free again so long before. */
  readonly after?: number;
}

/** What a task takes out of a store. */
export interface Draw {
  readonly store: string;
  readonly amount: number;
  /** Minutes from the beginning of the task to the draw; at once where it is left out. */
  readonly at?: number;
  /** What must be in the store then; where it is left out, as much as keeps it at its floor. */
  readonly wants?: number;
}

/** Something to be done in one go. */
export interface Task {
  readonly id: string;
  readonly minutes: number;
  readonly uses: readonly Use[];
  readonly draws?: readonly Draw[];
  /** It begins no earlier. */
  readonly earliest?: Minute;
  /** It ends no later. */
  readonly latest?: Minute;
}

/** One task ends before another begins, by so many minutes at least. */
export interface Order {
  readonly before: string;
  readonly after: string;
  readonly gap?: number;
  /** The other begins the very minute that the one is over. */
  readonly directly?: true;
}

/** What is to be put in order. */
export interface DayProblem {
  readonly tasks: readonly Task[];
  readonly orders: readonly Order[];
  readonly resources: readonly Resource[];
  readonly stores: readonly EnergyStore[];
  /** Resources whose attendance, from the first task to the end of the last, is to be short: technicians. */
  readonly attending: readonly string[];
  /** Tasks that had better lie close together, group by group: those of one set. Of orders that are as good, the one with the shorter sum of their spans is taken. */
  readonly together?: readonly (readonly string[])[];
  /** Pauses, which are not counted as attendance. */
  readonly rests?: readonly Span[];
}

/** What is made short first. */
export type Wish = "attendance first" | "day first";
