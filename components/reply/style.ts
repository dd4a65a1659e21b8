/** The one sheet of the reply's pages: small, with the machine's own typeface, since it travels with every page over a slow link. */
export const STYLE = `
:root{--paper:#fbfaf6;--sheet:#fff;--ink:#1b2025;--quiet:#565d66;--hair:#c9cbc6;--act:#0b4f5c;--on:#fff;--danger:#8a1c1c;--note:#e7f0f1;color-scheme:light dark}
@media(prefers-color-scheme:dark){:root{--paper:#14181c;--sheet:#1a1f24;--ink:#e8e6df;--quiet:#aeb4ba;--hair:#3b434b;--act:#8fd0dc;--on:#0d1a1d;--danger:#ff9c92;--note:#1d2f33}}
*{box-sizing:border-box}body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.45 system-ui,sans-serif;font-variant-numeric:tabular-nums;overflow-wrap:break-word}
header,main,footer{padding:.6rem clamp(.9rem,3vw,2rem);max-width:50rem}header{border-bottom:1px solid var(--hair)}header p,footer p{margin:0}footer{border-top:1px solid var(--hair);color:var(--quiet);font-size:.9rem;margin-top:2rem}
h1{font-size:1.4rem;line-height:1.2;margin:.6rem 0}h2{font-size:1.1rem;margin:1.6rem 0 .3rem}h3{font-size:1rem;margin:.8rem 0 0}p{margin:0 0 .6rem}a{color:var(--act)}:focus-visible{outline:3px solid #b85c00;outline-offset:2px}
.quiet,.about{color:var(--quiet)}.about{font-size:.95rem;margin:.1rem 0 .4rem}.saved{color:var(--quiet);min-height:1.5rem}.unseen{position:absolute;left:-99rem}
fieldset{border:0;border-top:1px solid var(--hair);margin:0;padding:.8rem 0 .6rem;min-width:0}legend{float:left;width:100%;padding:0;font-weight:600}legend+*{clear:both}.same{border-top:1px solid var(--hair)}.same fieldset{padding:.4rem 0 .3rem}
.os{display:flex;flex-wrap:wrap;gap:0 1.5rem}.o{display:flex;gap:.5rem;align-items:flex-start;padding:.25rem 0}.o input{width:1.4rem;height:1.4rem;margin:0;flex:none;accent-color:var(--act)}
.o b,.f b{font-weight:600}.f{display:block;margin:.45rem 0}.f b,.f small{display:block}.f small{color:var(--quiet);font-size:.95rem}.two{display:grid;gap:0 1rem;grid-template-columns:repeat(auto-fit,minmax(15rem,1fr))}
input[type=text],input[type=date],input[type=file],textarea,select{font:inherit;color:inherit;background:var(--sheet);border:1px solid var(--quiet);border-radius:2px;padding:.35rem .5rem;min-height:2.4rem;width:100%;max-width:30rem}input[type=date]{max-width:12rem}
button,.button{font:inherit;font-weight:600;background:var(--act);color:var(--on);border:1px solid var(--act);border-radius:2px;padding:.45rem 1rem;min-height:2.5rem;cursor:pointer;display:inline-block;text-decoration:none}button.second{background:0 0;color:var(--act)}button.link{background:0 0;border:0;color:var(--act);padding:.2rem 0;text-decoration:underline;text-align:left;min-height:1.5rem;font-weight:400}
.acts{display:flex;flex-wrap:wrap;gap:.6rem 1rem;margin:1.2rem 0}.fault{color:var(--danger);font-weight:600;margin:.2rem 0 .4rem}.wrong{border-left:4px solid var(--danger);padding-left:.7rem}
.summary{border:3px solid var(--danger);padding:.6rem 1rem;margin:.6rem 0}.summary h2{margin:0}.summary a{color:var(--danger)}.note{border-left:4px solid var(--act);background:var(--note);padding:.5rem .8rem;margin:.6rem 0}
summary{cursor:pointer;padding:.2rem 0}ol,ul{margin:0 0 .6rem;padding-left:1.3rem}li{padding:.1rem 0}dl{margin:0}dt{font-weight:600;margin-top:.5rem}dd{margin:0}
@supports selector(:has(a)){.only{display:none}fieldset:has([value="not known"]:checked) .later,fieldset:has([value="yes"]:checked) .how,fieldset:has([value="by another date"]:checked) .day,fieldset:has([value="another way"]:checked) .way,fieldset:has([type=radio]:checked:not([value=""])) .said,.only.on{display:block}}
@media print{header,footer,main{max-width:none;padding:0}.acts,.steps,.saved{display:none}}
`
  .trim()
  .replaceAll("\n", "");
