// Starts the page once its data is there: from a block in the page, or from the data script beside it.

function lookupData() {
  const block = document.getElementById("lookup-data");
  return block ? JSON.parse(block.textContent) : self.chockbookLookup;
}

setUpTheme();
const lookupRoot = document.getElementById("lookup");
if (lookupRoot) self.chockbookPage = new LookupPage(lookupRoot, lookupData());
