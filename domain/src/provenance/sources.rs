//! The sources that coefficients, rules and checks rest on.
//!
//! Only university, government, standards and journal material. A citation is written out in full
//! wherever a number is shown, so that nobody has to look up a key.

/// A citation, written out.
pub type Source = &'static str;

/// For rules of the trade.
pub const COMMON_PRACTICE: Source = "common practice, no source";
/// For defaults without an independent source.
pub const ASSUMPTION: Source = "assumption, no independent source";
/// For design choices of this project.
pub const OWN_CHOICE: Source = "this project's own choice";
/// For textbook statics.
pub const STATICS: Source = "statics";
/// For textbook mechanics of cylinders.
pub const MECHANICS: Source = "mechanics: force = pressure x area";
/// For geometry.
pub const GEOMETRY: Source = "geometry";
/// For what follows from the definition of a unit.
pub const DEFINITION: Source = "definition of the unit";
/// For normal-distribution tail areas.
pub const NORMAL: Source =
    "normal distribution of the load (an assumption) with the published spread";

/// Where to dig.
pub const CANOLA_DIG: Source = "Canola Council of Canada 2010. Seed-depth note (at least 100 ft behind the stop, several rows across the width)";
/// Rows, then seeds.
pub const TWO_STAGE: Source = "definition: variance of a mean of rows and seeds, s_between^2 / k + s_within^2 / (k n); limits by Student's t, IUPAC Gold Book C01247";
/// Counted shares.
pub const WILSON_SHARE: Source = "definition: Wilson's limits of a counted share";
/// Own weight of a row unit.
pub const IOWA_DOWNFORCE: Source = "Iowa State University Extension, as reported in the farm press, about 2023. Why planter downforce is so important";
/// Gauge-wheel load classes.
pub const HANNA_2010: Source = "Hanna, Steward, Aldinger 2010. Soil loading effects of planter depth-gauge wheels on early corn growth. Appl. Eng. Agric. 26(4):551-556 (abstract)";
/// Load against speed.
pub const LOAD_AND_SPEED: Source = "Two-dimensional radial sensing device for gauge-wheel downforce on a no-till planter. Journal abstract; bibliographic details to be traced";
/// Residue and cutting force.
pub const WANG_2018: Source = "Wang et al. 2018. Conservation agriculture using coulters: effects of crop residue on working performance. Sustainability 10(11):4099 (abstract)";
/// Double-disc openers by diameter.
pub const AHMAD_2015: Source = "Ahmad et al. 2015. Forces and straw cutting performance of double disc furrow opener in no-till paddy soil. PLoS ONE 10(3):e0119648 (abstract)";
/// Settings compared in the field.
pub const BADUA_2021: Source = "Badua, Sharda, Strasser, Ciampitti 2021. Ground speed and planter downforce influence on corn seed spacing and depth. Precision Agriculture (abstract)";
/// Planter data of the standard.
pub const ASABE_D497: Source = "ASAE D497.7 (R2020), Agricultural machinery management data (figure from memory, source to confirm)";
/// Coulter forces.
pub const COULTER_BULLETINS: Source =
    "rule of thumb of several US extension bulletins (from memory, source to confirm)";
/// Test weights.
pub const TEST_WEIGHT: Source = "legal test weights (from memory, source to confirm)";
/// Wet soils.
pub const IOWA_WET: Source = "Iowa State University Extension, 1 May 2008. Don't use more pressure than needed on wet soils. ICM News";
/// Goals of down force and the first look.
pub const IOWA_SETTINGS: Source =
    "Iowa State University Extension, 25 Mar 2024. Planter downforce settings";
/// Design speed.
pub const NEBRASKA_SPEED: Source =
    "University of Nebraska, 11 May 2007. Increased planting speed can cost yields";
/// Disc wear.
pub const IOWA_CHECKLIST: Source = "Iowa State University. Planter pre-plant checklist, n.d.";
/// Sidewall compaction, 2017.
pub const MICHIGAN_SIDEWALL: Source = "Michigan State University Extension, 4 May 2017. Preventing sidewall compaction in field crops";
/// Sidewall compaction, later text.
pub const MICHIGAN_SIDEWALL_LATER: Source = "Michigan State University Extension, as reported in the farm press, n.d. Reducing sidewall compaction in field crops";
/// Ball test.
pub const KANSAS_SIDEWALL: Source =
    "Kansas State University. Sidewall compaction from planting into wet soils, n.d.";
/// Toss and ribbon as found.
pub const PENN_SIDEWALL: Source =
    "Penn State Extension 2018, in a county council note. To prevent sidewall compaction";
/// Moisture by feel.
pub const NRCS_FEEL: Source =
    "USDA-NRCS. Estimating soil moisture by feel and appearance (Wyoming and Montana sheets), n.d.";
/// Texture classes.
pub const BENHAM_2009: Source = "Benham, Ahrens, Nettleton 2009. Clarification of soil texture class boundaries. USDA-NRCS National Soil Survey Center";
/// Soil strength by penetrometer.
pub const PENN_PENETROMETER: Source =
    "Penn State Extension, as reported in the farm press, n.d. Tips for diagnosing soil compaction";
/// Strength formula.
pub const DA_SILVA_KAY_1997: Source = "da Silva, Kay 1997; Kay et al. 1997: coefficients as carried in public pedotransfer source text (unit MPa from memory, source to confirm)";
/// Planting green.
pub const REED_2019: Source = "Reed, Karsten, Curran, Tooker, Duiker 2019. Planting green effects on corn and soybean production. Agronomy Journal (abstract)";
/// Planting green this year.
pub const PENN_GREEN: Source = "Penn State Extension, as reported in the farm press, n.d. Planting green could be tricky this year";
/// Depth by weather.
pub const PENN_RESIDUE_NOTE: Source = "Pennsylvania note, as reported in the farm press, n.d. No-till, cover crop residue serve beneficial functions";
/// No-till in a dry year.
pub const NEBRASKA_DRY: Source =
    "University of Nebraska 2013. No-till planting tips for a dry year";
/// Equipment for no-till.
pub const NEBRASKA_EQUIPMENT: Source =
    "University of Nebraska, 2 Apr 2010. Setting planting equipment for successful no-till";
/// Remove coulters.
pub const NRCS_COULTERS: Source = "USDA-NRCS agronomist (Indiana), as reported in the farm press, 2014. Remove coulters to plant into cover crops";
/// Corn after rye.
pub const IOWA_RYE: Source =
    "Iowa State University Extension 2021. Corn after a cereal rye cover crop";
/// Time to roll.
pub const IOWA_ROLL: Source =
    "Iowa State University Extension, 19 Mar 2020. When it's time to roll";
/// Southeast handbook.
pub const SARE_SOUTHEAST: Source =
    "SARE. Conservation Tillage Systems in the Southeast, ch. 9, Planting in cover crop residue";
/// Closing wheels in Colorado.
pub const COLORADO_TEN: Source = "Colorado State University Extension, as reported in the local press, about 2016. Ten things to check before planting season";
/// Closing systems.
pub const PENN_CLOSING: Source =
    "Penn State Extension. No-till planters part 4: closing systems, n.d.";
/// Closing wheels and emergence.
pub const DREWRY_2020: Source = "Drewry, Luck, Arriaga 2020. Impact of planter closing wheels on corn emergence in no-till systems. Appl. Eng. Agric. 36(5):727-732 (abstract)";
/// Biomass by height.
pub const DAKOTA_BIOMASS: Source = "North Dakota extension note, as reported in the farm press, n.d. Estimating cover crop biomass and N value";
/// Biomass slope of small grains.
pub const SARE_MCCP: Source =
    "Managing Cover Crops Profitably, SARE (from memory, source to confirm)";
/// Residue mass by yield.
pub const NEBRASKA_RESIDUE: Source = "County note citing University of Nebraska G1846, n.d.";
/// Cover from mass.
pub const GREGORY_1982: Source =
    "USDA-ARS erosion model source (covcal, recoded 1993); Gregory 1982, Trans. ASAE, 1333-1337";
/// Cover factors of soybean and wheat.
pub const WEPP_MEMORY: Source = "WEPP user summary, USDA-ARS (from memory, source to confirm)";
/// Soil temperature.
pub const NEBRASKA_TEMPERATURE: Source =
    "Nebraska extension note, in the local press, 2020. Soil temperature";
/// Freezing forecasts.
pub const TENNESSEE_TEMPERATURE: Source = "University of Tennessee Extension, as reported in the local press, n.d. Forecasted freezing temps should pause planting";
/// Corn depth, Purdue.
pub const PURDUE_DEPTH: Source =
    "Purdue University, as reported in the farm press, 2012. Corn planting depth";
/// Corn depth, Ohio.
pub const OHIO_DEPTH: Source =
    "Ohio State University, as reported in the farm press, n.d. Corn planting depth";
/// Corn depth floor.
pub const ILLINOIS_DEPTH: Source = "University of Illinois, as reported in the farm press, 2013. Growing degree day variability affects corn emergence";
/// Soybean depth.
pub const MICHIGAN_SOYBEAN_DEPTH: Source =
    "Michigan State University Extension 2012. Soybean planting depth";
/// Soybean depth, Iowa.
pub const IOWA_SOYBEAN_DEPTH: Source = "Iowa State University PM 1945. Soybean planting depth";
/// Seeding rate.
pub const NEBRASKA_SEEDING: Source = "University of Nebraska 2016. Soybean seeding rate tips";
/// Seeds per row.
pub const IOWA_AGRONOMY_212: Source = "Iowa State University, Agronomy 212, 2003. Seeds per row";
/// Field capacity.
pub const KENTUCKY_CAPACITY: Source = "Hancock, Swetnam, Benson 1991. Calculating farm machinery field capacities. University of Kentucky AEN-73";
/// Efficiency of planters.
pub const IOWA_EFFICIENCY: Source = "Iowa State University Extension, as reported in the farm press, 2018. Field equipment: efficiency versus capacity";
/// Most common no-till fault, hairpins.
pub const NEBRASKA_RIGHT_MOVES: Source = "University of Nebraska Extension, as reported in the farm press, n.d. Make the right moves to boost no-till planter, drill performance";
/// In-field adjustments.
pub const WISCONSIN_ADJUST: Source =
    "University of Wisconsin Extension. In-field planter adjustments, n.d.";
/// Pre-season checklist, Penn State.
pub const PENN_CHECKLIST: Source = "Penn State Extension, as reported in the farm press, n.d. Checklist helps get corn planter ready for new season";
/// Disc wear by tape measure.
pub const PURDUE_TAPE: Source = "Purdue University, as reported in the farm press, n.d. Take tape measure to planter opener disks";
/// Wear, Penn State.
pub const PENN_WEAR: Source =
    "Penn State Extension. No-till planters part 5: checking for wear, n.d.";
/// Openers and gauge wheels, Penn State.
pub const PENN_OPENERS: Source = "Penn State Extension. No-till planters part 3: opening discs, gauge wheels, critical wear areas, n.d.";
/// Planter check, Missouri.
pub const MISSOURI_CHECK: Source =
    "University of Missouri, as reported in the farm press, 2021. Planter check and preparation";
/// In-field checklist of a farmers' association.
pub const PENNSYLVANIA_ALLIANCE: Source = "Pennsylvania No-Till Alliance (farmers' association). No-till tips, in-field planter checklist, as reported in the farm press, n.d.";
/// Degree days.
pub const DEGREE_DAYS: Source = "method 86/50: Purdue University, Heat unit concepts; Ohio State University Extension AGF-101 (2023); University of Nebraska (2015)";
/// Safe work on a planter.
pub const WISCONSIN_CHECKUP: Source = "University of Wisconsin. Spring planter checkup, n.d.";
/// Overplanting of corn.
pub const OHIO_SURVIVAL: Source = "Ohio State University Extension, as reported in the farm press, 2014. Early corn: seed about 10 % above the harvest stand";
/// Clip samples.
pub const CLIP_METHOD: Source =
    "Cover-crop biomass and N worksheet. North Carolina extension, n.d.; definition of the acre";
/// Ground under live dry matter.
pub const GREEN_COVER: Source = "near-surface green cover in a public watershed-model source, n.d.";
/// For what somebody measured in this field.
pub const MEASURED_HERE: Source = "measured in this field";
/// Corn depth, Missouri.
pub const MISSOURI_DEPTH: Source =
    "University of Missouri, as reported in the farm press, n.d. Corn planting depth";
/// Soybean depth, Nebraska.
pub const NEBRASKA_SOYBEAN_DEPTH: Source = "University of Nebraska, as reported by a state soybean association, n.d. Soybean planting depth";
/// Chilling of corn and soybean.
pub const OHIO_CHILLING: Source = "Ohio State University 2022. Imbibitional chilling";
/// The other view on soybean and cold.
pub const IOWA_CHILLING: Source =
    "Iowa State University, as reported in the local press, 2019. Cold soil and soybean";
/// Wrapping of row cleaners.
pub const PENN_GUIDE: Source = "Penn State Agronomy Guide, as quoted in the farm press, n.d. Tips for no-till planting into cover crops";
/// Cover left standing.
pub const SARE_STANDING: Source =
    "SARE final report ONE19-339, 2022 (Penn State Extension, summary)";
/// Corn stand that gives full yield.
pub const IOWA_STAND: Source = "Iowa State University, East-Central Iowa crop page, 23 May 2006. Relative yield by final stand";
/// Emergence by degree days.
pub const LAUER_2003: Source = "Lauer 2003. Time for corn emergence. Wisconsin Crop Manager 10(8):63-64. University of Wisconsin";
/// Emergence of soybean.
pub const WISCONSIN_SOY: Source =
    "University of Wisconsin 2008. The Soy Report, 21 May 2008 (preliminary, one site)";
/// Tractor power and implements.
pub const IOWA_POWER: Source = "Iowa State University Extension, May 2007. Matching tractor power and implement size. File A3-26";
/// Spacing quality.
pub const SPACING_QUALITY: Source = "Iowa State University Extension. Plant uniformity measurements, n.d., citing Kachman and Smith 1995; Bracy, Parish. HortTechnology";
/// Hoop counts.
pub const PURDUE_HOOP: Source =
    "Purdue University Corn and Soybean Field Guide, as reported in the farm press, n.d.; geometry";
/// 150-plant counts.
pub const ILLINOIS_COUNT: Source =
    "University of Illinois. Corn stand counts, n.d. (method); definition of the acre";
/// Row cleaners in a living cover, a farmer's trial.
pub const SARE_CLEANERS: Source = "SARE farmer project FNC24-1436 (Wisconsin)";
/// Residue transects.
pub const KANSAS_TRANSECT: Source = "Kansas State University. Estimating crop residue cover, n.d.";
/// Spacing and yield, and when to see to the meters.
pub const SPACING_GUIDELINE: Source =
    "Site-Specific Management Guideline 37 (Carlson, Doerge and Clay), n.d.";
/// Centring of closing wheels.
pub const NEBRASKA_CLOSING: Source = "University of Nebraska Extension, as reported in the farm press, n.d. Maintaining closing wheels";
/// Spacing and speed.
pub const YAZGI_2015: Source = "Yazgi, Taylor, Navid, Kochenower 2015. Isolating corn plant spacing variability. ASABE paper 152115668 (abstract)";
/// Meters and arms that must not be loose.
pub const PENN_READY: Source =
    "Penn State University, as reported in the farm press, n.d. Is your no-till planter ready?";
/// Degree days to emergence of corn.
pub const PURDUE_EMERGENCE: Source = "Purdue University, Corn and Soybean Field Guide, as reported in the farm press, 2016 (115, 90 to 120); Lauer 2003, University of Wisconsin (125)";
/// Carbon to nitrogen.
pub const NRCS_CN: Source = "USDA-NRCS. Carbon to nitrogen ratios in cropping systems, n.d.";
/// Carbon in plants.
pub const TOPS_CARBON: Source = "general plant analysis (from memory, source to confirm)";
/// Nitrogen in tops.
pub const COVER_CROPS_UNIT: Source = "Cover Crops, Unit 1.6. Teaching manual adapted from Managing Cover Crops Profitably, 2nd ed., n.d.";
/// Cover crop before corn.
pub const IOWA_GUIDE_SHEET: Source =
    "Guide sheet: using a cover crop before corn in an Iowa corn-soybean rotation, n.d.";
/// Armyworm, Ohio.
pub const OHIO_ARMYWORM: Source =
    "Ohio State University, as reported in the farm press, n.d. Armyworm and cover crops";
/// Armyworm, Pennsylvania.
pub const PENN_ARMYWORM: Source = "Penn State Extension, as reported in the farm press, n.d. True armyworm when corn planting is delayed";
/// Black cutworm.
pub const OHIO_CUTWORM: Source =
    "Ohio State Extension, Wayne County, 2019. Early season pest scouting";
/// Slugs.
pub const VIRGINIA_SLUGS: Source = "Virginia Cooperative Extension. Pest advisory (slugs), n.d.";
/// Green bridge.
pub const CORNELL_BRIDGE: Source = "Cornell University. Cover crops and insect green bridge, n.d.";
/// Biomass and nitrogen worksheet.
pub const CAROLINA_WORKSHEET: Source = "Cover-crop biomass and N worksheet. North Carolina, n.d.";
/// Rye and corn in Wisconsin.
pub const WISCONSIN_RYE: Source = "University of Wisconsin, as reported on farm radio, n.d. Know when to terminate when planting green";
/// Termination zones 1 and 2.
pub const RMA_ZONES: Source =
    "USDA-RMA fact sheet on cover-crop termination, as reprinted in the press, 2014";
/// Termination zones, press summary.
pub const NRCS_ZONES_SUMMARY: Source =
    "Termination zones, press summary of the NRCS guidelines, n.d.";
/// Termination zones 3 and 4.
pub const NRCS_IOWA_ZONES: Source =
    "USDA-NRCS Iowa. USDA releases new cover crop termination guidelines, n.d.";
/// Crop insurance since 2020.
pub const RMA_2019: Source = "USDA-RMA. Manager's Bulletin MGR-19-017, 2019; FAQ, 28 June 2019";
/// Later termination with an expert's opinion.
pub const PRACTICAL_COVER: Source =
    "The Practical Cover Cropper (farmer-network newsletter, Iowa), n.d.";
/// Termination guidelines, fourth version.
pub const NRCS_VERSION_4: Source =
    "NRCS cover crop termination guidelines, Version 4 (from memory, source to confirm)";
/// Texture by feel: length of the ribbon.
pub const TEXTURE_RIBBON: Source = "USDA-NRCS and Colorado State University Extension, as repeated in a public guide to texture by feel, n.d.";
/// Texture by feel: gritty or smooth.
pub const THIEN_1979: Source = "Thien 1979. A flow diagram for teaching texture-by-feel analysis (key as reproduced in a wetland-techniques text)";
/// Limits of N + K2O in the furrow by row spacing and texture; urea and UAN stay out.
pub const KANSAS_SALT: Source =
    "Kansas State University eUpdate article 3091, n.d. In-furrow starter fertilizer for corn";
/// Limits of N + K2O in the furrow by cation exchange capacity.
pub const MICHIGAN_SALT: Source =
    "Michigan State University Extension, n.d. Starter fertilizer for corn";
/// Limit of N + K2O in the furrow.
pub const VIRGINIA_SALT: Source = "Virginia Tech / Penn State, n.d. Starter fertilizer";
/// No fertilizer with soybean seed.
pub const SOYBEAN_SALT: Source = "Kansas State University, as reported in the farm press, n.d.; Michigan State University, as reported in the farm press, n.d.";
/// What never belongs in the furrow.
pub const NEVER_IN_FURROW: Source = "Southern Illinois University and a state soybean association, n.d. In-furrow fertilizer in soybean; Kansas State University eUpdate article 3091";
/// Stand loss by seed-placed fertilizer.
pub const DAKOTA_SEED_PLACED: Source =
    "South Dakota State University, n.d. Seed-placed fertilizer worksheet";
/// Rules that go with the tables of seed-placed fertilizer.
pub const DAKOTA_SEED_PLACED_RULES: Source = "South Dakota State University Extension, n.d. Fertilizer placed with seeds: rules of the tables";
/// Salt indexes.
pub const RADER_1943: Source =
    "Rader et al. 1943. Soil Sci. 55:201-218 (from memory, source to confirm)";
/// Course of a 128th of an acre.
pub const COURSE_128TH: Source =
    "New Jersey AES Fact Sheet 1085, as cited by Rutgers 2013; definition of the acre";
/// Flow and rate of an applicator.
pub const FLOW_AND_LAND_RATE: Source =
    "University of California, n.d. Application rate = flow / land rate; definition of the acre";
/// Band applications.
pub const FLORIDA_BAND: Source = "University of Florida, n.d. Band application circular";
/// Inoculant trials.
pub const MICHIGAN_INOCULANT: Source =
    "Michigan State University, as reported in the farm press, n.d. Inoculant trials 2003-05";
/// Care of inoculants.
pub const INOCULANT_CARE: Source =
    "several extension bulletins, as reported in the farm press, n.d. Inoculant storage and use";
/// Jar test.
pub const UTAH_JAR: Source = "Utah State University Extension 2012. Jar test";
/// Tank mixing and labels.
pub const MICHIGAN_MIXING: Source = "Michigan State University Extension, n.d. Tank mixing";
/// Toughness of residue through the day.
pub const RESIDUE_HOURS: Source = "general extension advice on residue moisture through the day; no hourly table is published (from memory, source to confirm)";
/// Soil strength behind a planter, and speed.
pub const PLANTER_CONE_INDEX: Source = "Evaluation of corn planter under travel speed, working depth, pressure wheel and cone index. CIGR Journal (abstract)";
/// Row cleaner and coulter compared.
pub const FALLAHI_2008: Source = "Fallahi, Raoufat 2008. Row-crop planter attachments in a conservation tillage system. Soil Till. Res. 98:27-34 (abstract)";
/// Row units compared before the season.
pub const GEORGIA_BLOCKS: Source = "University of Georgia Extension 2023. Block test of row units";
/// Treated-seed dust.
pub const SEED_DUST: Source =
    "Penn State Extension, as reported in the press, n.d. Planter seed-treatment dust";
/// Yield of corn by planting date and stand.
pub const NAFZIGER_1994: Source = "Nafziger 1994. J. Prod. Agric. 7:59-62, as printed by Purdue University Extension, Pest & Crop 2012-15";
/// Yield of replanted corn.
pub const IOWA_REPLANT: Source = "Iowa State University Extension, East-Central Iowa crop page, 23 May 2006. Relative yield by final stand and planting window";
/// Yield of late corn.
pub const IOWA_LATE: Source =
    "Iowa State University Extension 2018. Delayed planting in northern Iowa";
/// Yield of late corn with hybrids of full and of short season.
pub const WISCONSIN_EXPECTED: Source =
    "University of Wisconsin, Wisconsin Crop Manager 10(7):56-57, 2003 (first rows of the table)";
/// Loss per day by thirds of May.
pub const ILLINOIS_LOSS_2013: Source =
    "University of Illinois, as reported in the farm press, 2013. Corn yield loss by planting date";
/// Loss by date from 35 trials, and per day in June.
pub const ILLINOIS_LOSS_2016: Source = "University of Illinois, as reported in the farm press, 2016. Corn planting date, 35 trials in nine years";
/// Loss of corn and soybean after April.
pub const OHIO_LOSS: Source =
    "Ohio State University 2024. Yield loss of corn and soybean planted after the end of April";
/// Loss of corn after its window.
pub const PENN_LOSS: Source = "Penn State Agronomy Guide, in a county council note, 2020";
/// Loss of soybean planted in June.
pub const ILLINOIS_SOY_LOSS: Source = "University of Illinois. Soybean planted in June, n.d.";
/// Loss of soybean planted after mid-June.
pub const VIRGINIA_SOY_LOSS: Source = "Virginia Tech. Soybean planted after mid-June, n.d.";
/// The window in which corn keeps 98 to 100 %.
pub const IOWA_WINDOW: Source = "Iowa State University, as reported in the farm press, 2013. Planting corn late does not foretell low yield";
/// When soybean begins to lose.
pub const IOWA_SOY_WINDOW: Source = "Iowa State University, 10 May 2024. All is not lost yet";
/// Days fit for fieldwork.
pub const ILLINOIS_FIELD_DAYS: Source = "University of Illinois 2010. Working field days in Illinois, FEFO 10-11 (central Illinois, 1980-2010)";
/// Tractors: power at drawbar and PTO, slip.
pub const ARIZONA_POWER: Source = "University of Arizona. Agricultural machinery management, n.d.";
/// Ride and speed.
pub const OKLAHOMA_SPEED: Source = "Down force and ground speed in no-till and strip-till corn, Oklahoma, 4.8 to 14.4 km/h. Journal abstract; bibliographic details to be traced";
/// Spacing and yield, the older figure.
pub const NIELSEN_1991: Source = "Nielsen 1991, Purdue University, in a University of Wisconsin Extension summary, 2000; also Purdue University, as reported in the farm press, 2010";
/// How seed is sold.
pub const SEED_TRADE: Source = "trade practice (from memory, source to confirm)";
/// Seeding rate of soybean planted green.
pub const GREEN_SOYBEAN: Source =
    "several extension bulletins on planting green (from memory, source to confirm)";
/// Strips on farms: blocks, length, chance.
pub const WUEST_1994: Source = "Wuest et al. 1994. On-farm test design. PNW STEEP; adapted in a Canadian on-farm trial guide, 2021";
/// How much plots differ where nothing was tried.
pub const UNIFORMITY_TRIALS: Source = "calculated from uniformity trials: corn, Jones, Harbur, Moore 2021, Agronomy 11(6):1254 (12 x 12 plots, Iowa 2016; pairs of neighbouring columns 3.0 %, all plots 6.6 %) and Bryan 1933, Iowa State College (8-hill plots, up to 17.2 %); soybean, Odland, Garber 1928, Agronomy Journal 20:93-108 (55 rows of 28 plats)";
/// Why one strip beside another is no trial.
pub const MICHIGAN_TRIALS: Source =
    "Michigan State University Extension. On-farm trial design, n.d.";
/// Weighing plots.
pub const CANOLA_STRIPS: Source = "Canola Council of Canada. Check-strip note, n.d.";
/// Water in grain as it is sold.
pub const MARKET_MOISTURE: Source =
    "moisture at which grain is sold in the United States (from memory, source to confirm)";
/// Late plants in corn.
pub const NAFZIGER_1991: Source =
    "Nafziger et al. 1991, in a University of Illinois note, 2014. Uneven emergence";
/// Late plants in corn, another source.
pub const ONTARIO_UNEVEN: Source =
    "Ontario Agronomy Guide, as reported in the farm press, n.d. Uneven emergence";
/// When planting again for unevenness pays.
pub const OHIO_UNEVEN: Source = "Ohio State University Extension AGF-122. Uneven emergence in corn";
/// Gaps in rows of corn.
pub const IOWA_GAPS: Source =
    "Iowa State University Extension, ICM, 29 April 1994; East-Central Iowa crop page, 2006";
/// Gaps in rows of soybean.
pub const IOWA_SOY_GAPS: Source = "Iowa State University Extension, ICM, 24 May 1999";
/// How many counts a field takes, and when.
pub const NORTH_CAROLINA_COUNTS: Source =
    "North Carolina State University. Corn stand counts, n.d.";
/// How many counts of a thousandth of an acre.
pub const TENNESSEE_COUNTS: Source = "University of Tennessee 2011. Stand counts";
/// Keep or replant, a worked example and the tenth that a replanted field loses.
pub const NEBRASKA_STANDS: Source = "University of Nebraska, 22 May 2009. Evaluating corn stands";
/// Days from planting to emergence.
pub const ILLINOIS_DAYS_UP: Source =
    "University of Illinois, Pest Bulletin, May 2003. Days to emergence";
/// Degree days to emergence by date of planting.
pub const WISCONSIN_BY_DATE: Source = "University of Wisconsin, repeated by Nebraska: corrections by date (from memory, source to confirm)";
/// Thin stands of soybean: when to replant.
pub const VIRGINIA_SOY_STAND: Source = "Virginia Tech. Soybean stand evaluation, n.d.";
/// Thin stands of soybean.
pub const ILLINOIS_THIN_SOY: Source = "University of Illinois, Bulletin 11, 5 June 2009";
/// Thin stands of soybean.
pub const MISSOURI_THIN_SOY: Source = "University of Missouri, citing Gaspar and Conley 2015";
/// Thin stands of soybean.
pub const MICHIGAN_THIN_SOY: Source =
    "Michigan State University, soybean population trials 2015-18";
/// Stand of soybean at harvest.
pub const SOY_CHECKOFF_STAND: Source =
    "soybean check-off programme page on stands (Iowa work), n.d.";
