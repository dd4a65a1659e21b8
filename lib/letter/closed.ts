/** One reply of the vessel that was taken in: by whom, on which plain date, to which letter. */
export interface Replied {
  readonly name: string;
  readonly role?: string;
  readonly when: string;
  readonly letter: number;
}

/** What a reply said of one test, and what became of it. */
export interface TestSaid {
  readonly ref: string;
  readonly letter: number;
  /** Agreed, as it was planned then, or with a remark that was not taken; another way, taken by the inspector or not. */
  readonly says: "agreed" | "agreed with a remark" | "proposed" | "not taken";
  /** The way as it was planned in that letter, by the names of its methods. */
  readonly way: string;
  /** The method that was proposed, by id and name. */
  readonly method?: string;
  readonly proposal?: string;
  readonly words?: string;
}

/** A request that was confirmed, as it read in the letter that it was confirmed with. */
export interface ConfirmedThen {
  readonly request: string;
  readonly text: string;
  readonly contact?: string;
  /** Whether the vessel said itself how it is had; else the office goes by the safer of the ways. */
  readonly how?: true;
}

/** What a letter that ends the exchange tells besides the plan: who said what in which letter, and what is open still. */
export interface Closing {
  readonly kind: "settled" | "not settled";
  /** The replies in the order of the letters. */
  readonly replied: readonly Replied[];
  readonly tests: readonly TestSaid[];
  readonly confirmed: readonly ConfirmedThen[];
  /** References of what still decides or is not confirmed; empty where all is settled. */
  readonly open: { readonly questions: readonly string[]; readonly requests: readonly string[] };
  /** How many answers the plan rests on, and which version of the visit it was made from. */
  readonly answers: number;
  readonly version: number;
}
