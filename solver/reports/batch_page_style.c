/* SPDX-License-Identifier: MIT */
/* What only a batch's page has: strips whose minutes are as wide as the zoom says, and sheets that take one page of A4 each. */
#include "reports/batch_sheet.h"

static const char sheet[] =
    ".charts{--z:1;width:min(96vw,420mm);margin-left:calc(50% - min(48vw,210mm))}.zoom{font-size:9pt}.charts input{margin:0 1mm 0 3mm}\n"
    "#zoom1:checked~.strip{--z:2}#zoom2:checked~.strip{--z:4}#zoom3:checked~.strip{--z:8}\n"
    ".strip{break-inside:avoid}\n"
    ".scroll{overflow-x:auto}\n"
    ".rows{display:grid;grid-template-columns:38mm calc((100% - 38mm)*var(--z,1));font-size:7.5pt}\n"
    ".rows>b{font-weight:normal;position:sticky;left:0;z-index:2;background:#fff;padding-right:1mm;white-space:nowrap;"
    "overflow:hidden;text-overflow:ellipsis;border-top:.1mm solid #999;line-height:4.6mm}\n"
    ".track{position:relative;height:4.6mm;border-top:.1mm solid #999;overflow:hidden}\n"
    ".track>*{position:absolute;box-sizing:border-box;top:.3mm;height:4mm;left:calc(var(--b)/var(--n)*100%);"
    "width:calc(var(--l)/var(--n)*100%);overflow:hidden;white-space:nowrap;line-height:3.6mm}\n"
    ".track a{border:.2mm solid;padding-left:.3mm;color:inherit;text-decoration:none;background:#fff}\n"
    ".track a.work{background:#ccc}.track a:hover,.track a:focus{outline:.4mm solid;overflow:visible;z-index:1}\n"
    ".track i{top:0;height:4.6mm;background:repeating-linear-gradient(45deg,#999 0 .3mm,transparent .3mm 1.2mm)}\n"
    ".hours{border-top:0}.hours>span{border-left:.2mm solid;padding-left:.5mm}\n"
    ".digest{font:7.5pt monospace;overflow-wrap:anywhere}\n"
    "a{color:inherit}td>a{white-space:nowrap}\n"
    ".sheet,.mode{break-before:page}\n"
    ".sheet{font-size:8.6pt;line-height:1.22}.sheet h2{margin-top:0;font-size:13pt}\n"
    ".sheet p{margin:.2mm 0}.sheet .gap{margin-top:1mm}.sheet td,.sheet th{padding:.5mm 1mm;font-size:inherit}\n"
    ".sheet .i11,.sheet .i13{font-size:inherit}.sheet p.i2,.sheet p.i4{margin-left:2mm}.sheet .step p{margin-left:0}\n"
    ".sheet .power td{padding-top:1mm}.sheet .mind td{border-bottom:0;border-top-width:.4mm;break-after:avoid}\n"
    ".sheet .mind+.step td{border-top:0}.sheet p:has(b.caution){display:inline;margin:0}\n"
    ".sheet b.caution{padding:0 .6mm;border-width:.2mm}.sheet .mind,.sheet .power p:has(b.caution){font-size:.94em}\n"
    ".sheet .step td.tick{border-left-width:1.2mm}.sheet .step .i0>.strong{font-size:1.1em}\n"
    ".date{white-space:nowrap}.sheet .when{width:27mm}.sheet .note{width:30mm;color:#555}.sheet .box{width:3.4mm;height:3.4mm}\n"
    ".near{font-size:8.2pt;line-height:1.19}.near p{margin:.1mm 0}\n"
    ".close{font-size:7.8pt;line-height:1.17}.close p{margin:0}\n"
    ".dense{font-size:7.3pt;line-height:1.15}.dense p{margin:0}.sheet.dense td{padding:.4mm 1mm}\n"
    ".tight{font-size:6.9pt;line-height:1.13}.tight p{margin:0}.sheet.tight td{padding:.3mm 1mm}\n"
    "@media screen{.sheet,.mode{border-top:1mm solid;margin-top:8mm;padding-top:3mm}body{max-width:210mm}}\n"
    "@media print{.charts{width:auto;margin:0}.zoom,.charts input,.charts label{display:none}.strip{--z:1!important}.scroll{overflow:visible}\n"
    ".rows>b{white-space:normal;line-height:3mm;padding-top:.4mm}.track.tall{height:9.6mm}.track.tall>*{height:9mm}\n"
    ".track.tall i{height:9.6mm}.track a{font-size:6.3pt}.track .thin{writing-mode:vertical-rl;font-size:5.5pt;line-height:1.9mm;"
    "padding:.4mm 0 0}.track .bare{font-size:0}}\n"
    "@media screen{.paper{display:none}}\n"
    "@media screen and (prefers-color-scheme:dark){.rows>b,.track a{background:#161616}.track a.work{background:#555}"
    ".sheet .note{color:#aaa}}\n";

const char *
batch_page_style (void)
{
    return sheet;
}
