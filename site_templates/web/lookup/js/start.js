// Starts the page once its data is there: from a block in the page, or from the data script beside it.

function lookupData() {
  const block = document.getElementById("lookup-data");
  if (block) return JSON.parse(block.textContent);
  const data = self.chockbookLookup;
  return data;
}

const lookupRoot = document.getElementById("lookup");
if (lookupRoot) self.chockbookPage = new LookupPage(lookupRoot, lookupData());
