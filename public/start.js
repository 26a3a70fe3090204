// Says in plain words why the page cannot start, from outside the page that may be broken.
//
// It is a classic script so that it also runs where modules do not, and comes before everything
// else so that it hears of every failure.
(function () {
  "use strict";

  var started = false;

  function show(id) {
    var block = document.getElementById(id);
    if (block) {
      block.hidden = false;
      document.getElementById("starting").hidden = true;
    }
    // An error may come before the page has been read to its end.
    else document.addEventListener("DOMContentLoaded", function () { show(id); }, { once: true });
  }

  // Without one of these the module is never asked for, and the screen would stay empty.
  if (typeof WebAssembly !== "object" || !("noModule" in HTMLScriptElement.prototype)) {
    show("no-start");
    return;
  }

  // Before the start every failure leaves an empty screen; a module that is refused means an old
  // browser, or a network that answers with something else. After the start only a failure inside
  // the module stops the page; the rest is left to the page, which goes on.
  function heard(failure) {
    if (failure instanceof WebAssembly.CompileError) show("no-start");
    else if (!started || failure instanceof WebAssembly.RuntimeError) show("crash");
  }

  // The third argument hears files that did not load, too: those errors do not rise by themselves.
  window.addEventListener("error", function (event) {
    var file = event.target instanceof HTMLElement ? event.target.localName : "";
    if (file === "" || file === "script") heard(event.error);
  }, true);

  window.addEventListener("unhandledrejection", function (event) { heard(event.reason); });

  window.addEventListener("TrunkApplicationStarted", function () {
    started = true;
    document.getElementById("starting").hidden = true;
  });

  // Firefox takes a module that was cut short for want of memory, and WebKit tells nobody of one that a
  // phone without a network has kept badly.
  setTimeout(function () { document.getElementById("slow").hidden = started; }, 20000);

  // WebKit (WebKitGTK 2.50.6) leaves what stands inside a size container as it was drawn before when
  // a window is turned back, or only grows lower, as it does below a browser's bar: keys half as wide
  // as a finger, or on one another. Taken out and put in again at once, it is drawn anew; nothing is
  // painted and no focus is lost between.
  window.addEventListener("resize", function () {
    document.querySelectorAll(".session, .run").forEach(function (screen) {
      screen.style.display = "none";
      void screen.offsetHeight;
      screen.style.display = "";
    });
  });

  // A shortcut of the home screen where the page is open already: it is brought to the front, and
  // only its fragment changes, so that a run goes on.
  if (window.launchQueue) {
    window.launchQueue.setConsumer(function (launch) {
      var to = launch.targetURL ? new URL(launch.targetURL).hash : "";
      if (to) location.hash = to;
    });
  }
})();
