// One order of steps out of the orders of several rulings, the weightiest order first; where one contradicts those
// before it together, theirs holds. generator/chockbook/catalogue/step_order.py does the same.

function mergedOrder(orders, compare) {
  const after = new Map(orders.flat().map((step) => [step, new Set()]));
  const put = (earlier, later) => {
    if (earlier === later || after.get(later).has(earlier)) return;
    const gained = [later, ...after.get(later)];
    for (const [step, following] of after) {
      if (step === earlier || following.has(earlier)) gained.forEach((one) => following.add(one));
    }
  };
  for (const order of orders) {
    order.forEach((earlier, at) => order.slice(at + 1).forEach((later) => put(earlier, later)));
  }
  const done = [];
  const left = new Set(after.keys());
  while (left.size) {
    const first = [...left].filter((step) => ![...left].some((other) => after.get(other).has(step))).sort(compare)[0];
    done.push(first);
    left.delete(first);
  }
  return done;
}
