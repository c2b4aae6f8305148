/** The catalogue: what gear the yard has. Its file's schema, its loader and two demo yards. */

export { demoCatalogue, demoCatalogueFile, demoInchCatalogue, demoInchCatalogueFile } from './demo.js';
export { catalogueJsonSchema } from './jsonSchema.js';
export { INCH_GRID_MM, loadCatalogue } from './load.js';
export { catalogueSchema } from './schema.js';
