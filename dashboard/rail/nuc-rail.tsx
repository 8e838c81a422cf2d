/** A nuc's rail as the room allows: lying where there is width for it, standing where there is not. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Rail } from '../../server/http/contract/nucs.ts';
import { Legend } from './legend.tsx';
import { RailAcross } from './rail-across.tsx';
import { RailDown } from './rail-down.tsx';

/** Below this the words on a lying rail run into each other. */
const lyingFromPx = 620;

export function useWidth<T extends HTMLElement>() {
  const ref = useRef<T>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return undefined;
    const observer = new ResizeObserver(([entry]) => {
      if (entry) setWidth(Math.floor(entry.contentRect.width));
    });
    observer.observe(element);
    setWidth(Math.floor(element.clientWidth));
    return () => {
      observer.disconnect();
    };
  }, []);
  return { ref, width };
}

export function NucRail({ rail }: { rail: Rail }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  return (
    <div class="nuc-rail">
      <div ref={ref} class="rail-room">
        {width === 0 ? null : width >= lyingFromPx ? (
          <RailAcross rail={rail} width={width} />
        ) : (
          <RailDown rail={rail} />
        )}
      </div>
      <p class="rail-words">{rail.inWords}</p>
      <Legend />
    </div>
  );
}
