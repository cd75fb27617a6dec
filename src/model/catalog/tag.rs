//! Words about an ingredient that the cautions look for. Owns the closed list of tags; the cautions
//! themselves live elsewhere.

use super::closed_list::closed_list;

closed_list! {
    /// A property of an ingredient that matters for food safety or for an honest claim.
    Tag {
        /// Egg that has been neither cooked nor dried, pasteurised egg included: it spoils when left warm.
        RawEgg = "raw-egg",
        /// Milk, cream and cultured milk that are not dried: they spoil when left warm.
        FluidMilk = "fluid-milk",
        /// Cheese with much water: it spoils when left warm.
        SoftCheese = "soft-cheese",
        /// Meat and what is made of it.
        Meat = "meat",
        /// Fish, crustaceans and molluscs.
        Fish = "fish",
        /// Fat or gelling agent of an animal; milk, egg, honey, meat and fish have words of their own.
        AnimalProduct = "animal-product",
        /// Honey, in any form: not for babies under twelve months.
        Honey = "honey",
        /// Garlic and what tastes of it: with oil it must be kept cold.
        Garlic = "garlic",
        /// Leaves that are not dried: with oil they must be kept cold.
        FreshHerb = "fresh-herb",
        /// Fat that pours and keeps air from what lies in it.
        Oil = "oil",
        /// Sodium or potassium hydroxide: burns skin and eyes.
        Lye = "lye",
        /// Flour of raw beans whose lectins only thorough cooking destroys.
        BeanFlour = "bean-flour",
        /// Kernels that release cyanide.
        BitterKernel = "bitter-kernel",
        /// Potassium bromate, azodicarbonamide, and flour treated with either: not allowed everywhere.
        RestrictedImprover = "bromate",
        /// Poppy seed: unwashed seed may carry opiates.
        Poppy = "poppy",
        /// Cassia cinnamon, rich in coumarin.
        Cassia = "cassia",
        /// Salt with potassium in it: can harm people with kidney trouble.
        PotassiumSalt = "potassium-salt",
        /// Keeps only in the cold once it is in or on a baked bread.
        Perishable = "perishable",
        /// A made-up product whose allergens differ from maker to maker: only its packet knows.
        ReadPacket = "read-packet",
    }
}
