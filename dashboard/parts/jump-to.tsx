/** On a long page: straight to one of its parts. An address can't do it, since it already names the page. */

function jump(title: string): void {
  const headings = [...document.querySelectorAll<HTMLElement>('main h2')];
  const heading = headings.find((one) => one.textContent === title);
  if (!heading) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
  heading.scrollIntoView({ block: 'start' });
}

export function JumpTo({ parts }: { parts: readonly string[] }) {
  return (
    <nav class="jump no-print" aria-label="Parts of this page">
      {parts.map((title) => (
        <button
          key={title}
          type="button"
          class="plain"
          onClick={() => {
            jump(title);
          }}
        >
          {title}
        </button>
      ))}
    </nav>
  );
}
