// Lengths of drawings. Drawings count in inches; units are "us" or "metric".
"use strict";
window.lengths = (() => {
  const mm = 25.4;
  const glyphs = { "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
  const inches = { '"': 1, in: 1, inch: 1, inches: 1, mm: 1 / mm, cm: 10 / mm, m: 1000 / mm };

  // The least step of a drag or an arrow key, in inches: 1/2 in or 5 mm; a coarse one is twice that.
  const step = (units, coarse = false) => (units === "metric" ? 5 / mm : 0.5) * (coarse ? 2 : 1);

  // The nearest place on the grid of these steps, in inches.
  const snap = (length, units, coarse = false) => Math.round(length / step(units, coarse)) * step(units, coarse);

  // A length as the form takes it: 5' 2 1/2" to the nearest 1/16 in, or 1588 mm.
  function say(length, units) {
    if (units === "metric") return `${Math.round(length * mm)} mm`;
    const all = Math.round(Math.abs(length) * 16), feet = Math.floor(all / 192), whole = Math.floor((all % 192) / 16);
    let part = all % 16, under = 16;
    while (part && part % 2 === 0) [part, under] = [part / 2, under / 2];
    const rest = [whole || "", part ? `${part}/${under}` : ""].filter(Boolean).join(" ");
    const text = [feet ? `${feet}'` : "", rest ? `${rest}"` : ""].filter(Boolean).join(" ") || "0";
    return length < 0 && all ? `-${text}` : text;
  }

  // "62", "62.5", "62 1/2" or "1/2"; anything else is NaN.
  const number = (text) => text.trim().split(/\s+/).reduce((sum, part) => {
    const [, over, under = "1"] = /^(\d+\.?\d*|\.\d+)(?:\/(\d+))?$/.exec(part) || [];
    return sum + (Number(under) ? Number(over) / Number(under) : NaN);
  }, 0);

  // Inches of a typed length, NaN for what is none. The server reads it again and has the last word.
  function read(text, units) {
    const plain = text.trim().toLowerCase().replace(/[’‘′]/g, "'").replace(/[”“″]/g, '"').replace(/''/g, '"')
      .replace(/[¼½¾⅓⅔⅛⅜⅝⅞]/g, (glyph) => ` ${glyphs[glyph]}`).trim();
    const feet = /^([\d./ ]+?)\s*(?:'|ft\.?|foot|feet)(?:\s*-?\s*([\d./ ]+?)\s*(?:"|in\.?|inch|inches)?)?$/.exec(plain)
      || (units !== "metric" && /^(\d+)\s*-\s*(\d+(?: \d+\/\d+|\.\d+)?)\s*(?:"|in\.?)?$/.exec(plain));
    if (feet) return number(feet[1]) * 12 + (feet[2] ? number(feet[2]) : 0);
    const one = /^([\d./ ]+?)\s*("|in|inch|inches|mm|cm|m)?\.?$/.exec(plain);
    return one ? number(one[1]) * (inches[one[2]] ?? (units === "metric" ? 1 / mm : 12)) : NaN;
  }

  return { say, snap, step, read };
})();
