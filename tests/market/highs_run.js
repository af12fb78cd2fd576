// HiGHS on LP files: node highs_run.js FOLDER SECONDS FILE...   (FOLDER has node_modules/highs)
// One JSON line each: file, status, objective, seconds.
"use strict";
const fs = require("fs");
const path = require("path");

async function main([folder, seconds, ...files]) {
  for (const file of files) {
    // A fresh one each: one that ran out of memory or time is of no use afterwards.
    const highs = await require(path.join(path.resolve(folder), "node_modules", "highs"))({});
    const begun = performance.now();
    let answer;
    try {
      answer = highs.solve(fs.readFileSync(file, "utf8"), { threads: 1, mip_rel_gap: 0, time_limit: Number(seconds) });
    } catch (error) {
      answer = { Status: `failed: ${error.message}`, ObjectiveValue: null };
    }
    console.log(JSON.stringify({
      file, status: answer.Status, objective: answer.ObjectiveValue, seconds: (performance.now() - begun) / 1000,
    }));
  }
}

main(process.argv.slice(2));
