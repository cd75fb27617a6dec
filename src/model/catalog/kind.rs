//! What sort of thing an ingredient is. Owns the closed list of kinds; says nothing of figures.

use super::closed_list::closed_list;

closed_list! {
    /// The sort of an ingredient, from which checks and sums tell what it does in a dough.
    Kind {
        /// Flours and meals milled of grain, pseudo-grain or pulse: what 100 % stands for.
        Flour = "flour",
        /// Grain that is not milled to flour: whole, cracked, flaked or sprouted, and bran and germ.
        Grain = "grain",
        /// Starches, and dried potato as flour or flakes.
        Starch = "starch",
        /// Wheat protein washed out of flour and dried.
        Gluten = "gluten",
        /// Malted grain, milled, without living enzymes that anybody counts on.
        Malt = "malt",
        /// Water, ice, juice, vinegar, coffee, beer, and drinks made of plants.
        Liquid = "liquid",
        /// Fluid and evaporated milk.
        Milk = "milk",
        /// Sweet cream of any fat.
        Cream = "cream",
        /// Soured milk and cream: yoghurt, buttermilk, kefir, quark.
        Cultured = "cultured",
        /// Milk, buttermilk and whey as powder.
        DriedMilk = "dried-milk",
        /// Soft cheese that gives its water to the dough.
        FreshCheese = "fresh-cheese",
        /// Cheese in crumbs, slices or gratings that keeps its water to itself: ripened, brined or stretched.
        HardCheese = "hard-cheese",
        /// Butter and margarine: fat with water in it.
        Butter = "butter",
        /// Fat that is firm in a cool room and holds no water.
        Fat = "fat",
        /// Fat that pours.
        Oil = "oil",
        /// Egg, yolk and white as they come out of the shell.
        Egg = "egg",
        /// Egg as powder.
        DriedEgg = "dried-egg",
        /// Dry sugars.
        Sugar = "sugar",
        /// Sugars that flow, and sweetened condensed milk.
        Syrup = "syrup",
        /// Honey.
        Honey = "honey",
        /// Salt, whatever its grain.
        Salt = "salt",
        /// Baker's yeast, fresh or dried.
        Yeast = "yeast",
        /// Chemical raising agents.
        Leavening = "leavening",
        /// Seeds, whole, ground or as a paste.
        Seed = "seed",
        /// Nuts, whole, ground or as a paste, peanuts and coconut among them.
        Nut = "nut",
        /// Dried and candied fruit.
        Fruit = "fruit",
        /// Fruit in pieces, and zest: the water stays in them.
        FreshFruit = "fresh-fruit",
        /// Vegetables in pieces, raw, fried or pickled: the water stays in them.
        Vegetable = "vegetable",
        /// Cooked grain and potato, purées, mashed fruit: the water goes into the dough.
        Cooked = "cooked",
        /// Cocoa and chocolate.
        Chocolate = "chocolate",
        /// Spices and flavourings.
        Spice = "spice",
        /// Leaves, fresh or dried.
        Herb = "herb",
        /// Meat, raw, cured or cooked.
        Meat = "meat",
        /// Fish and other sea food.
        Fish = "fish",
        /// Helpers in small amounts: enzymes, acids, emulsifiers, gums, lye.
        Improver = "improver",
        /// Anything else.
        Other = "other",
    }
}
