//! What careless bakers type: the words of the random pages, one choice from the next by a broken bar.

pub(crate) const WEIGHTS: &str = "500 g¦500g¦500  grams¦.5 kg¦0,5 kg¦½ kg¦1/2 kg¦1 lb 4 oz¦1lb 4oz¦12 Ounces¦1 ½ kg¦\
                                  1 1/2 kilos¦500000 mg¦0.125 kg¦0,125 kg¦1.25KG¦17.6 oz¦1 pound";
pub(crate) const SMALL_WEIGHTS: &str = "25 g¦25g¦1 oz¦12 grams";
pub(crate) const SHARES: &str = "2 %¦2%¦2.5 percent¦12,5 %¦1/2 %¦½%¦0.35  %¦2 per cent";
pub(crate) const VOLUMES: &str =
    "250 ml¦3 tbsp¦1½ cups¦2 teaspoons¦8 fl oz¦1 Cup¦1.5l¦8 fl. oz¦½ cups¦1 1/2 cup";
pub(crate) const TIMES: &str = "40 min¦40min¦40 minutes¦1 h 30 min¦1h 30min¦8–10 h¦8-10 hours¦10 - 14h¦45 min-1 h¦\
                                90 secs¦1½ h¦1.5-2 h¦2 days¦1 Day¦overnight¦Overnight¦then¦Then¦8 to 10 h¦\
                                45 min to 1 h¦1 week¦2 hrs¦30 s";
pub(crate) const DEGREES: &str = "24 C¦24C¦24 °C¦24°C¦75 F¦75°f¦24-26 C¦24–26°C¦24 deg C¦20 degrees Celsius¦24℃¦-2 C¦\
                                  75 F to 80 F¦-2 °C - 4 °C";
pub(crate) const WARMTHS: &str = "24 C¦24C¦24 °C¦75 F¦room¦fridge¦Room¦room temperature¦20-24 C";
pub(crate) const CUES: &str = "doubled¦1.5x¦1,5 ×¦1½ x¦core 92 C¦core 92–94°C¦dough 24C¦it is  light and airy¦\
                               the top, lightly pressed, springs back¦Doubled¦2 x¦it has 2 cups of froth¦Core 92c¦\
                               ripe , and 24°C¦at 24C it sinks";
pub(crate) const VERBS: &str = "mix¦knead¦bulk¦proof¦shape¦divide¦rest¦bake¦cool¦cool down, then look¦stretch¦\
                                mix in the spiral¦Preshape¦brush with milk¦score 3 cuts 1 cm deep¦\
                                wait 2 h more if it's 5g light¦rest , covered";
pub(crate) const WET: &str = "water¦whole milk¦honey¦olive oil";
pub(crate) const THINGS: &str = "water¦whole milk¦honey¦salt¦instant yeast¦unsalted butter¦Walnuts¦toasted  walnuts¦\
                                 soft butter¦raisins¦starter¦caraway seeds¦olive oil¦rolled oats¦mystery powder no 5¦\
                                 cooked potato¦half and half 2 c¦cream 30 g fat";
pub(crate) const PROSE: &str = "Pour it on a little at a time; mind the *steam*.¦# not a remark, a heading¦\
                                - 500g of this¦    indented code¦A line with  two spaces and 24°C in it¦12 min knead¦\
                                > said the baker¦pâte 🍞 小麦粉¦| a | b |¦# ¦note well¦title: not a key";
pub(crate) const REMARKS: &str = "¦from the mill¦500g of it, 24°C¦# again¦pâte 🍞¦key: value¦dough:";
pub(crate) const READINGS: &str =
    "20.5°C  room¦24C dough¦11h 40min bulk¦94 C core¦788g loaf¦3 loaves¦12,5% loss";
pub(crate) const CHANGES: &str = "10 % spelt flour, sifted  instead of  whole wheat flour¦5g poppy seeds after mix¦\
                                  12 min  Mix at 24C¦20 % poppy seeds , lightly crushed  at 24 C";
pub(crate) const STAGES: &str = "levain¦Scald¦soaker night¦old  dough, 20g to keep¦poolish, 900g";

/// Keys of a recipe with values that fit any dough.
pub(crate) const KEYS: &[(&str, &str)] = &[
    ("units", "g, oz¦g,oz¦oz"),
    ("dough temperature", "24 C¦75°F¦24–26 C"),
    ("bake loss", "12 %¦12,5%"),
    ("slices", "14"),
    ("keeps", "4 days¦1 week¦2–3 days¦36 hours"),
    ("tags", "enriched, levain¦5g, 24°C,tin bread"),
    ("author", "A. Baker  Jr¦5g"),
    ("paper", "A4¦4 x 6 in¦4 x  6 in¦half letter, A5"),
    ("revision", "2 (12 oz)¦3"),
    ("language", "en-GB"),
];

/// What a recipe makes where the dough weighs what it weighs.
pub(crate) const PIECES: &str = "2 loaves¦4 dozen small  rolls¦24 inch-long sticks¦12 cup cakes";

/// What a recipe makes where that sizes the dough.
pub(crate) const SIZED_PIECES: &str = "2 loaves of 650 g¦2 loaves of 650g¦4 dozen small  rolls of 60 g¦\
                                       24 inch-long sticks of 2oz¦2 loaves of 580 grams baked";

pub(crate) const TINS: &str = "lidded 20 x 10 x 10 cm¦20x10x10cm¦round 20 × 8 cm¦8 x 4 x 4 inches¦1.5l¦\
                               23 x 13 / 20 x 10 x 7 cm, 2.3 ml per g";

pub(crate) const HOUSE_KEYS: &[(&str, &str)] = &[
    ("room", "20 C¦68°F"),
    ("fridge", "4C¦39 F"),
    ("altitude", "250 m¦250m"),
    ("asleep", "22:30-06:00¦22:30 – 06:00"),
    ("preheat", "45 min¦1h 30min"),
    ("scales", "1 g, 0.1 g under 50 g¦1g, 0,1g under 50g"),
    ("starter", "100 % hydration, bread flour¦80% hydration, rye flour"),
    ("old dough", "65 % hydration, 2% salt, bread flour"),
    ("friction", "4 C by hand, 12C in spiral"),
    ("currency", "EUR"),
    ("paper", "A4¦5 x 8 in"),
    ("bake loss", "12%"),
];

pub(crate) const PROPERTIES: &[&str] = &[
    "13.1 % protein¦13,1%   protein",
    "364kcal¦364 kcal",
    "contains  wheat¦contains wheat,milk¦Contains Wheat",
    "1.85 EUR  per kg¦1,85 EUR per 500g¦2 EUR per 12 ounces",
    "58g each",
    "142 g per cup¦142g per Cup¦1.42 g per ml",
    "absorption +3 %¦absorption -2%",
    "counts  as flour¦counts as no flour¦Counts as flour",
    "wet¦dry",
];
