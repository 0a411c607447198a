#include "cli/write/html_style.h"

namespace easewright {

std::string_view html_style() {
  // Dark ink on a light ground, 12 to 1 and more; what gives way is hatched, what holds is not.
  return R"(
:root { --ink: #21262b; --soft: #55595c; --line: #b8b0a0; --hair: #e4ddd0; --paper: #faf7f0;
        --card: #fffdf8; --dye: #2b4566; }
* { box-sizing: border-box; }
html { background: var(--paper); }
body { margin: 0 auto; padding: 2.5rem 1.5rem 4rem; max-width: 60rem; color: var(--ink);
       overflow-wrap: break-word;
       font: 1rem/1.5 Georgia, "Liberation Serif", "Times New Roman", serif; }
h1, h2, h3, caption, th, .tag, .small, figcaption, summary, .step {
       font-family: system-ui, "Liberation Sans", sans-serif; }
h1 { margin: 0; font-size: 1.7rem; font-weight: 600; line-height: 1.2; }
h2 { margin: 2.4rem 0 .7rem; padding-bottom: .25rem; font-size: 1.05rem; font-weight: 600;
     color: var(--dye); border-bottom: 1px solid var(--line); }
h3 { margin: 0 0 .2rem; font-size: .85rem; font-weight: 600; color: var(--dye); }
p, ul, dl { margin: .5rem 0; }
.under { color: var(--soft); margin: .3rem 0 0; }
article + article { margin-top: 4rem; padding-top: 2rem; border-top: 3px double var(--line); }
.verdict { margin: 1.4rem 0; padding: .8rem 1rem .8rem 1.8rem; background: var(--card);
           border: 1px solid var(--line); position: relative; }
.verdict::before { content: ""; position: absolute; left: 0; top: 0; bottom: 0; width: .8rem;
           background: var(--dye); }
.verdict.missed::before { background: repeating-linear-gradient(45deg, var(--ink) 0 2px,
           var(--card) 2px 6px); }
.verdict strong { display: block; font: 600 1.2rem/1.3 system-ui, sans-serif; }
ol.misses { list-style: none; margin: 0; padding: 0; }
ol.misses > li { margin: .9rem 0; padding-left: 5rem; position: relative; break-inside: avoid; }
.tag { position: absolute; left: 0; top: .15rem; width: 4.2rem; font-size: .8rem;
       text-align: center; border: 1px solid var(--ink); }
.tag.must { background: var(--ink); color: var(--card); font-weight: 700; }
.tag.should { border-width: 2px; font-weight: 700; }
.tag.wish { border-style: dashed; }
.tag.habit { border-style: dotted; }
ol.misses p { margin: .15rem 0; }
.lead { font-weight: 600; }
.lead + .lead { margin-left: .3rem; }
code { font: .85em/1.4 ui-monospace, "Liberation Mono", monospace; overflow-wrap: anywhere; }
.columns { columns: 17rem; column-gap: 2.2rem; }
.columns > div { break-inside: avoid; margin: 0 0 .9rem; }
.columns > div.long { break-inside: auto; }
table { border-collapse: collapse; width: 100%; }
td, th { padding: .16rem .6rem .16rem 0; text-align: left; vertical-align: top; font-size: .95rem; }
th { font-size: .8rem; font-weight: 600; color: var(--soft); }
tr + tr td, tbody tr:first-child td { border-top: 1px solid var(--hair); }
th.amount { text-align: right; padding-right: .4rem; }
td.amount { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums;
       padding-right: .4rem; }
tr { break-inside: avoid; }
.wide { overflow-x: auto; }
td.band { width: 8.5rem; } td.band svg { display: block; width: 8rem; height: 1.1rem;
       margin-top: .2rem; }
.small { color: var(--soft); font-size: .85rem; }
.drawings { display: flex; flex-wrap: wrap; gap: 1rem; align-items: flex-end; }
figure { margin: 0; flex: 1 1 100%; max-width: 100%; break-inside: avoid; }
figure svg { display: block; width: 100%; height: auto; max-height: 46rem; }
figure.scaled { flex: none; width: max(8rem, calc(var(--cm) * 1mm)); }
/* A centimetre of cloth is a millimetre on the page. */
figure.scaled svg { width: calc(var(--cm) * 1mm); max-width: 100%; max-height: none; }
figcaption { font-size: .8rem; line-height: 1.3; color: var(--soft); margin-top: .3rem;
             max-width: 14rem; }
.slip { background: var(--card); border: 1.5px dashed var(--dye); padding: .4rem 1rem .8rem; }
.slip td { padding: .3rem .6rem .3rem 0; }
.slip td.step { width: 5.5rem; font-weight: 600; font-size: .9rem; }
.slip p { margin: 0 0 .15rem; padding-left: 1.5rem; position: relative; }
.slip p.check::before { content: ""; position: absolute; left: .1rem; top: .28rem; width: .75rem;
       height: .75rem; border: 1.2px solid var(--ink); background: #fff; }
.slip p.care { border-left: 3px solid var(--ink); padding-left: calc(1.5rem - 3px); }
.slip b { font-variant-numeric: tabular-nums; white-space: nowrap; }
footer { margin-top: 2.5rem; border-top: 1px solid var(--line); padding-top: .6rem; }
@page { size: A4; margin: 14mm 15mm; }
@media print {
  html { background: #fff; font-size: 9pt; } :root { --paper: #fff; --card: #fff; --hair: #ddd; }
  body { padding: 0; max-width: none; line-height: 1.35; }
  h2 { margin-top: 1.3rem; break-after: avoid; }
  article + article, .sheet { break-before: page; margin-top: 0; padding-top: 0; border-top: 0; }
  .whole { break-inside: avoid; }
  .columns { columns: 4; column-gap: 1.3rem; }
  td, th { font-size: .95rem; padding: .05rem .4rem .05rem 0; }
  figure svg { max-height: 12.5cm; }
  td.band svg { height: .9rem; margin-top: 0; }
  .slip { padding: .2rem .8rem .4rem; }
  .slip td, .slip td.step { padding: .14rem .6rem .14rem 0; font-size: 1rem; }
  .slip p { margin-bottom: .05rem; } footer { margin-top: .6rem; padding-top: .3rem; }
  .verdict, .tag, .verdict::before { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
)";
}

}  // namespace easewright
