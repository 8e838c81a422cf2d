/** Cautions, shown where they matter. The tool advises; local codes and the bee inspector decide. */

export const cautions = {
  stings:
    'Stings can kill. Veil on, someone within call, prescribed adrenaline and a phone with you: after adrenaline call the emergency number, even if it gets better. Never open a nuc on a sensor’s word alone.',
  fire: 'Smokers set fire to dry grass and cars: stand it on bare ground or metal, carry water, put it out before you leave.',
  night:
    'By night: not alone, a lamp, firm ground, wrists and ankles closed. In the dark bees crawl and sting.',
  honey:
    'Honey carries foulbrood, in candy too: only your own from healthy colonies, or candy without honey.',
  lifting: 'A full box weighs 20 to 40 kg (45 to 90 lb): lift with two, or in parts.',
  electrics:
    'At the stand use batteries or extra-low voltage only. Mains outdoors needs a residual-current device and a qualified person.',
  imports:
    'Imported queens: health papers, and the examination of cages and attendants, are set by local law. Ask the bee inspector.',
  disease:
    'Never move a frame of brood from a colony with signs of brood disease. Notifiable disease is reported as local law says.',
  signs:
    'Close the nuc. Move no frames, bees, queens or tools from it to another colony; clean your hands and tools. Call the bee inspector: local law says what is reported.',
  advice: 'Welcomb advises. Local codes of practice and the bee inspector decide.',
  alive: 'No sensor proves that a queen is alive: a look in the hive does.',
} as const;

export type Caution = keyof typeof cautions;
