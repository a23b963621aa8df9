/** What a new match offers to be picked of many: by what is typed, else the first few. */

export const FIRST_OFFERED = 6; // chosen: three rows of a phone

interface Named { readonly name: string }

const plain = (text: string): string => text.trim().toLocaleLowerCase();

/** Returns those whose name has what was typed in it. A whole name is a choice and no search: it stands first, before all others. */
export function offered<T extends Named>(all: readonly T[], typed: string): readonly T[] {
  const wanted = plain(typed);
  const chosen = all.filter(({ name }) => plain(name) === wanted);
  if (chosen.length > 0) return all.length > FIRST_OFFERED ? [...chosen, ...all.filter((one) => !chosen.includes(one))] : all;
  return all.filter(({ name }) => plain(name).includes(wanted));
}
