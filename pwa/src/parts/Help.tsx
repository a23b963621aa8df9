import { GLOSSARY, type Term } from "./glossary";

/** The words of one part of the screen, folded away until asked for. */
export function Help({ terms, label = "What the words mean" }: { terms: readonly Term[]; label?: string }) {
  return (
    <details class="help">
      <summary>{label}</summary>
      <dl>
        {terms.map((term) => (
          <div key={term}>
            <dt>{GLOSSARY[term][0]}</dt>
            <dd>{GLOSSARY[term][1]}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
