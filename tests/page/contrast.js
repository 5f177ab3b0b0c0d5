/* Every visible text of the page whose contrast with its ground is below WCAG 2.2 AA: [text, ratio, ink, ground].
   The ground of a text in a picture is the topmost filled shape drawn before it under its middle. */
() => {
  const channels = (colour) => colour.match(/[\d.]+/g).map(Number);
  const light = (colour) => {
    const [r, g, b] = channels(colour).slice(0, 3).map((value) => value / 255)
      .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (one, other) => {
    const [high, low] = [light(one), light(other)].sort((a, b) => b - a);
    return (high + 0.05) / (low + 0.05);
  };
  const isClear = (colour) => colour === "none" || colour === "transparent" || channels(colour)[3] === 0;
  const behind = (start) => {
    for (let each = start; each; each = each.parentElement) {
      const colour = getComputedStyle(each).backgroundColor;
      if (!isClear(colour)) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  const fillOf = (shape) => {  // of a pattern, its ground
    const fill = getComputedStyle(shape).fill, pattern = fill.match(/url\("#(.+)"\)/);
    return pattern ? getComputedStyle(document.getElementById(pattern[1]).querySelector("rect")).fill : fill;
  };
  const shapes = new Map();
  const under = (text) => {
    const picture = text.ownerSVGElement;
    if (!shapes.has(picture)) {
      shapes.set(picture, [...picture.querySelectorAll("rect, circle, ellipse, path, polygon")].filter((shape) => !shape.closest("defs") &&
        !isClear(fillOf(shape)) && shape.checkVisibility()));
    }
    const box = text.getBoundingClientRect();
    const middle = new DOMPoint(box.x + box.width / 2, box.y + box.height / 2);
    let ground = behind(picture);
    for (const shape of shapes.get(picture)) {
      if (!(shape.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING)) continue;
      const room = shape.getBoundingClientRect();
      if (middle.x < room.left || middle.x > room.right || middle.y < room.top || middle.y > room.bottom) continue;
      if (shape.isPointInFill(middle.matrixTransform(shape.getScreenCTM().inverse()))) ground = fillOf(shape);
    }
    return ground;
  };
  const weak = [];
  let seen = 0;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const holder = walker.currentNode.parentElement;
    const words = walker.currentNode.textContent.trim();
    if (!words || holder.closest("script, style, noscript, title") || !holder.checkVisibility()) continue;
    if (holder.closest(":disabled") || !holder.getBoundingClientRect().width) continue;
    const style = getComputedStyle(holder), drawn = holder.closest("svg");
    const [ink, ground] = drawn ? [style.fill, under(holder.closest("text"))] : [style.color, behind(holder)];
    const size = parseFloat(style.fontSize), large = !drawn && (size >= 24 || size >= 18.66 && Number(style.fontWeight) >= 700);
    seen += 1;
    if (ratio(ink, ground) < (large ? 3 : 4.5)) weak.push([words.slice(0, 60), ratio(ink, ground), ink, ground]);
  }
  return { seen, weak };
}
