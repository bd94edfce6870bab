/* SPDX-License-Identifier: MIT */
/* The style sheet: black on white and no colour that says anything, so that a grey printer loses nothing; A4, no row or
 * strip cut by the end of a page; a dark screen turns it around. Pictures have their own attributes, which the classes
 * override there. */
#include "reports/page_style.h"

static const char sheet[] =
    "@page{size:A4;margin:10mm}\n"
    "html{background:#fff;color:#000;font:9.5pt/1.25 sans-serif}\n"
    "body{margin:0 auto;max-width:190mm;padding:4mm 0}\n"
    "h1{font-size:15pt;margin:0 0 1mm}\n"
    "h2{font-size:11.5pt;margin:5mm 0 1mm;border-bottom:.4mm solid;break-after:avoid}\n"
    "h3{font-size:10pt;margin:3mm 0 1mm;break-after:avoid}\n"
    "p{margin:.4mm 0;overflow-wrap:anywhere}\n"
    ".gap{margin-top:2.5mm}\n"
    ".i2{margin-left:4mm}.i4{margin-left:8mm}.i6{margin-left:12mm}.i8{margin-left:16mm}.i9{margin-left:0}\n"
    ".i11{margin-left:4mm;font-size:9pt}.i13{margin-left:8mm;font-size:9pt}.step .i2{margin-left:0}\n"
    "b.caution{border:.25mm solid;padding:0 1mm}\n"
    "p:has(b.caution){break-inside:avoid}\n"
    "b.bad{text-decoration:underline}\n"
    ".strips svg{display:block;max-width:100%;height:auto;margin:2mm 0;break-inside:avoid;"
    "font-family:sans-serif}\n"
    "table{border-collapse:collapse;width:calc(100% - .4mm);margin:0 .2mm}\n"
    "th,td{border:.2mm solid;padding:1mm 1.5mm;text-align:left;vertical-align:top}\n"
    "th{font-size:9pt}\n"
    "tr{break-inside:avoid}\n"
    ".power td{border-left:0;border-right:0;border-top-width:.6mm;break-after:avoid;padding-top:2mm}\n"
    ".tick{width:7mm;text-align:center}.time{width:21mm}.number{text-align:right}\n"
    ".box{display:inline-block;width:4mm;height:4mm;border:.4mm solid}\n"
    ".found{margin-top:1mm;border-bottom:.2mm dotted;height:6mm;font-size:9pt}\n"
    ".part{break-before:page}\n"
    ".reading{border:.6mm solid;margin:3mm .2mm 0;padding:1mm 2mm;break-inside:avoid}\n"
    "ol{margin:1mm 0;padding-left:8mm}\n"
    "@media screen and (prefers-color-scheme:dark){\n"
    "html{background:#161616;color:#eee}\n"
    "svg .ink{fill:#eee}svg .line{stroke:#eee}svg .clear{fill:#161616}svg .shade{fill:#484848}\n"
    "}\n";

const char *
page_style (void)
{
    return sheet;
}
