// On a calculator's own page Python is wanted for sure: it is fetched while the page is still read.
// A failure is told by calculator.js, which asks again.
window.HandbookPython.start(document.currentScript.dataset.first).catch(() => {});
